"""What every form of the sheet says of itself."""

from __future__ import annotations

from typing import Final

HEAD: Final = (
    "not told: tables by sun and temperature of the cells stand below; "
    "`--sun` with `--air` or `--cells` makes the sheet for one"
)
REMEMBER: Final = (
    "A value in its band shows that nothing was found, not that an installation is safe. The bands "
    "are computed from labels. The local code, the makers' instructions and a licensed electrician "
    "stand above this sheet; what the law leaves to licensed persons is theirs to measure."
)
