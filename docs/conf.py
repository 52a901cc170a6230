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
html_logo = html_favicon = "_static/mark.svg"
html_copy_source = False
html_show_sphinx = False
pygments_style = "a11y-high-contrast-light"
pygments_dark_style = "a11y-high-contrast-dark"
html_theme_options = {
    "announcement": "Wattproof sees a plan, not your installation. Local codes, the makers' "
    "manuals and a licensed electrician stand above it.",
    # The colours of the page that `wattproof report` writes.
    "light_css_variables": {
        "color-brand-primary": "#0a5468",
        "color-brand-content": "#0a5468",
        "color-brand-visited": "#5a4a78",
        "color-foreground-primary": "#1d2329",
        "color-foreground-secondary": "#56616c",
        "color-sidebar-background": "#f2f5f6",
        "color-announcement-background": "#0a3a48",
        "color-announcement-text": "#ffffff",
        "admonition-font-size": "1rem",
        "admonition-title-font-size": "1rem",
    },
    "dark_css_variables": {
        "color-brand-primary": "#86cbdc",
        "color-brand-content": "#86cbdc",
        "color-brand-visited": "#c3b3e0",
        "color-foreground-primary": "#e3e7ea",
        "color-foreground-secondary": "#a7b0b8",
        "color-background-primary": "#15191c",
        "color-background-secondary": "#1b2024",
        "color-sidebar-background": "#1b2024",
        "color-announcement-background": "#0a3a48",
        "color-announcement-text": "#ffffff",
    },
}
