"""Pages made from templates, in which all that a plan says is escaped."""

from __future__ import annotations

from types import CodeType
from typing import Any, Final

from jinja2 import BytecodeCache, ChoiceLoader, Environment, PackageLoader, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup

from wattproof.reports.writing.columns import clean


def environment_of(*packages: str) -> Environment:
    """The templates of packages, the first that has one of a name; a value that lacks is an error.

    packages: such as `wattproof.reports.page`.
    """
    return Environment(
        loader=ChoiceLoader([PackageLoader(package) for package in packages]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_safe,
        bytecode_cache=_COMPILED,
    )


class _Compiled(BytecodeCache):
    """Templates as they were compiled for the first page, for all others of one call."""

    def __init__(self) -> None:
        self._held: dict[str, CodeType] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self._held.get(f"{bucket.key} {bucket.checksum}")

    def dump_bytecode(self, bucket: Bucket) -> None:
        if bucket.code is not None:
            self._held[f"{bucket.key} {bucket.checksum}"] = bucket.code


_COMPILED: Final = _Compiled()


def text_of(environment: Environment, name: str) -> str:
    """A file of the templates as it stands, for a style or a script."""
    assert environment.loader is not None
    return environment.loader.get_source(environment, name)[0]


def _safe(value: Any) -> Any:
    """Texts of a plan without characters that hide themselves or what stands beside them."""
    return clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value
