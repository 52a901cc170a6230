"""How the documentation is built: `sphinx-build -W --keep-going -b html docs OUT`.

Nothing is fetched from anywhere. Pages about rules, keys, figures and assumptions are written by
`_ext/wattproof_docs` from the program itself, and outputs shown come from runs at build time.
"""

import sys
from pathlib import Path

from wattproof import __version__

sys.path.insert(0, str(Path(__file__).parent / "_ext"))

project = "Wattproof"
author = "the authors of Wattproof"
copyright = "the authors of Wattproof, MIT licence"
version = release = __version__
language = "en"

extensions = ["myst_parser", "sphinx_copybutton", "wattproof_docs"]
copybutton_prompt_text = "$ "
copybutton_only_copy_prompt_lines = True
myst_enable_extensions = ["colon_fence", "deflist"]
myst_heading_anchors = 4
exclude_patterns = ["_build", "_ext", "generated/tables"]

html_theme = "furo"
html_title = "Wattproof"
html_static_path = ["_static"]
html_css_files = ["wattproof.css"]
html_copy_source = False
html_show_sphinx = False
html_theme_options = {
    "announcement": "Wattproof compares a plan with published figures. It does not see your "
    "installation. Local codes, the makers' manuals and a licensed electrician stand above it.",
}
