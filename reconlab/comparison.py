"""How do versions differ? The same hundred parts of each, side by side, with every change and its reason."""

from __future__ import annotations

from dataclasses import dataclass

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError
from reconlab.formula import IF_IT_IS, Formula, Replacement
from reconlab.materia import thing
from reconlab.reasons import Value
from reconlab.receipts import Use
from reconlab.screening import screen


@dataclass(frozen=True, slots=True)
class Difference:
    """The shares of one substance in each version; None where it cannot be there."""

    substance: str
    shares: tuple[Value | None, ...]


@dataclass(frozen=True, repr=False)
class Comparison(Shown):
    """Versions of one receipt side by side."""

    title: str
    versions: tuple[Formula, ...]
    differences: tuple[Difference, ...]
    stopped: tuple[tuple[str, ...], ...]  # by version: what stops the bench, for the use asked about
    use: Use | None = None

    @property
    def changes(self) -> tuple[tuple[str, Replacement], ...]:
        """Every change of every version, with the version's name."""
        return tuple((version.name, change) for version in self.versions for change in version.changes)

    def _named(self, substance: str) -> str:
        chosen = any(substance in version.as_chosen() for version in self.versions)
        return thing(substance).name + ("" if chosen else IF_IT_IS)

    def _cells(self, found: Difference) -> tuple[str, ...]:
        """Return a share for each version; what is there without a weight has none."""
        by_weight = [{part.substance for part in version.parts} for version in self.versions]
        cells = ("-" if share is None else str(share).replace(" % w/w", "", 1) for share in found.shares)
        return tuple(
            cell if cell == "-" or found.substance in weighed else "not weighed"
            for cell, weighed in zip(cells, by_weight, strict=True)
        )

    def card(self) -> Card:
        """Return the comparison as a card."""
        names = tuple(version.name for version in self.versions)
        table = tuple(
            (
                self._named(d.substance),
                *self._cells(d),
            )
            for d in self.differences
        )
        changed = tuple(
            (name, change.out, " + ".join(change.into) or "left out", change.kind, change.because, change.expected)
            for name, change in self.changes
        )
        nothing = "nothing found that stops the bench" if self.use else "not screened: no use is given"
        notes = [
            f"{name}: {'stops at ' + '; '.join(stopped) if stopped else nothing}"
            for name, stopped in zip(names, self.stopped, strict=True)
        ]
        heads = ("version", "out", "in", "kind", "because", "expected")
        tables = (
            Table("% w/w", ("substance", *names), table),
            *((Table("Changes", heads, changed),) if changed else ()),
        )
        more = (
            ("Two changes at once cannot be told apart in use: make one at a time where you can.",)
            if len(changed) > 1
            else ()
        )
        return Card(f"{self.title}: {' beside '.join(names)}", tuple(notes), tables, last=more)


def compare(*versions: Formula, use: Use | None = None) -> Comparison:
    r"""Return two or more versions side by side, share by share.

    Parameters
    ----------
    *versions : Formula
        Versions of one receipt.
    use : Use, optional
        The use: with it each version is screened; without it only what is never handled is looked for.

    Returns
    -------
    Comparison
        Shares in each version [% w/w] and the changes between them.

    Raises
    ------
    InputError
        If fewer than two versions are given.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> literal = translate(read("French chalk, 1 oz.\nStarch, 3 oz.", years="1911", place="England"))
    >>> other = literal.replaced(Replacement(out="French chalk", into={"kaolin": 1.0}), "without talc")
    >>> [None if share is None else round(share.number) for share in compare(literal, other).differences[0].shares]
    [25, None]
    """
    if len(versions) < 2:  # noqa: PLR2004 - two things to compare
        raise InputError(f"{len(versions)} version was given", "compare", "Name at least two.")
    keys = dict.fromkeys(key for version in versions for key in version.substances)
    differences = tuple(
        Difference(key, tuple(version.share(key) if key in version.substances else None for version in versions))
        for key in keys
    )
    stopped = tuple(tuple(dict.fromkeys(thing(key).name for key in _stops(version, use))) for version in versions)
    return Comparison(versions[0].title, versions, differences, stopped, use)


def _stops(version: Formula, use: Use | None) -> list[str]:
    if use is not None:
        return [finding.substance for finding in screen(version, use).stops]
    return [key for key in version.substances if thing(key).never_handled]
