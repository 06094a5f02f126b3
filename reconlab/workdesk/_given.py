"""Is it something a person said? Words of an example left standing are not."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.errors import InputError


def refuse_examples(where: str, **words: object) -> None:
    """Refuse the three dots of a call that was copied and not filled in."""
    for name, said in words.items():
        if isinstance(said, str) and said.strip() and not said.strip(" .\N{HORIZONTAL ELLIPSIS}"):
            raise InputError(f"{said!r} says nothing", f"{where}, {name}", f"Write it out, or leave {name} out.")


def listed(sources: str | Sequence[str]) -> tuple[str, ...]:
    """Return sources as a tuple; one given alone is one."""
    return (sources,) if isinstance(sources, str) else tuple(sources)
