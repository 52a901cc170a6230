"""The folder of a new pack of rules, written where nothing is yet."""

from __future__ import annotations

import os

from wattproof.cli.errors import CallUnusable
from wattproof.cli.pack_template import FIRST_RULE, Unnamed, names_of, texts_of
from wattproof.replacing import replace_file


def write_pack(folder: str) -> str:
    """Write it; what to say of it. Raises CallUnusable, and overwrites nothing."""
    try:
        names = names_of(os.path.basename(os.path.abspath(folder)))
    except Unnamed as unnamed:
        raise CallUnusable(f"--pack: {unnamed}") from None
    if os.path.lexists(folder) and not (os.path.isdir(folder) and not os.listdir(folder)):
        raise CallUnusable(f"{folder} is there already and is not empty: name another folder")
    texts = texts_of(names)
    try:
        for name, text in texts.items():
            target = os.path.join(folder, *name.split("/"))
            os.makedirs(os.path.dirname(target), exist_ok=True)
            replace_file(target, text.encode("utf-8"))
    except OSError as error:
        raise CallUnusable(f"{folder} cannot be written: {error.strerror}") from None
    listed = "".join(f"  {os.path.join(folder, *name.split('/'))}\n" for name in texts)
    return (
        f"Written:\n{listed}\nNext: `pip install --editable {folder}`, and `wattproof rules` lists "
        f"`{names.pack}/{FIRST_RULE}`.\n"
    )
