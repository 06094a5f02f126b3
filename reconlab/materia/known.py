"""What is known of a substance, on one card; and which substances do a job or have a figure on file."""

from __future__ import annotations

from dataclasses import dataclass

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError
from reconlab.materia.names import substance_id
from reconlab.materia.things import properties
from reconlab.materia.words import folded
from reconlab.reasons import Citation, Reason, figure
from reconlab.tables import LawText, Name, PropertyValue, Rule, Substance, by_id, rows, source_entries


@dataclass(frozen=True, slots=True, repr=False)
class Known(Shown):
    """One substance: what it is, what it does, its figures, its names of the time, what law rows are on file."""

    row: Substance
    figures: tuple[PropertyValue, ...]
    names: tuple[Name, ...]
    rules: tuple[Rule, ...]

    @property
    def reason(self) -> Reason:
        """Who says what it is."""
        return self.row.reason(f"what {self.row.name} is")

    def explain(self) -> Reason:
        """Return the chain of reasons behind what it is.

        Returns
        -------
        Reason
            The sentence, and who says it.
        """
        return self.reason

    def card(self) -> Card:
        """Return what is known as a card; the figures come first, so that they are its frame."""
        tables = (
            Table("Figures", ("property", "figure", "condition", "who says so"), tuple(map(_figure, self.figures))),
            Table("Names of the time", ("name", "standing", "where and when"), tuple(map(_named, self.names))),
            Table("Law on file", ("text", "rule", "entry", "use", "limit"), tuple(map(_ruled, self.rules))),
        )
        return Card(
            self.row.name,
            tuple(self._notes()),
            tuple(table for table in tables if table.rows),
            (self.reason,),
        )

    def _notes(self) -> list[str]:
        row = self.row
        notes = [f"holds {row.never_handled}: never handled"] if row.never_handled else []
        notes += [
            f"{label}: {words}"
            for label, words in (
                ("INCI", row.inci),
                ("CAS", ", ".join(row.cas)),
                ("formula", row.formula),
                ("state at 20 C", row.state),
                ("kind", row.class_),
                ("what it does", ", ".join(row.functions)),
                ("to be had today", row.availability),
            )
            if words
        ]
        missing = [
            words
            for words, found in (
                ("no figures on file", self.figures),
                ("no names of the time on file", self.names),
                ("law: not looked up", self.rules),
            )
            if not found
        ]
        return [*notes, *missing]


@dataclass(frozen=True, slots=True, repr=False)
class Search(Shown):
    """The substances a search found, as a card and as a frame."""

    asked: str
    found: tuple[Substance, ...]
    known: str

    def card(self) -> Card:
        """Return the substances as a card."""
        heads = ["substance", "INCI", "kind", "what it does", "to be had today", "never handled"]
        if self.known:
            heads.append(self.known.replace("_", " "))
        shown = tuple(self._cells(row) for row in self.found)
        notes = () if self.found else ("None on file, which does not mean there is none.",)
        return Card(f"Substances: {self.asked}", notes, (Table("", tuple(heads), shown),) if shown else ())

    def _cells(self, row: Substance) -> tuple[str, ...]:
        known = (_first(row.id, self.known),) if self.known else ()
        return (
            row.name,
            row.inci,
            row.class_,
            ", ".join(row.functions),
            row.availability,
            row.never_handled,
            *known,
        )


def substance(words: str) -> Known:
    """Return what the tables know of one substance.

    Parameters
    ----------
    words : str
        Its modern name, INCI name, CAS number or id, or a name of the time that meant nothing else.

    Returns
    -------
    Known
        What it is and does, its figures with their sources, its names of the time, the law rows on file.

    Examples
    --------
    >>> substance("zinc oxide").row.inci
    'ZINC OXIDE'
    """
    row = by_id(Substance)[substance_id(words)]
    return Known(
        row,
        tuple(value for value in rows(PropertyValue) if value.substance == row.id),
        tuple(name for name in rows(Name) if name.kind == "substance" and name.meaning == row.id),
        tuple(rule for rule in rows(Rule) if rule.substance == row.id),
    )


def substances(does: str = "", kind: str = "", known: str = "") -> Search:
    """Return the substances that do a job, are of a kind, or have a figure of some property on file.

    Parameters
    ----------
    does : str
        What it does, as in ``substances.csv``; the start of the word is enough, such as ``"cover"``.
    kind : str
        Its class, such as ``"gum"``.
    known : str
        A property that must be on file, such as ``"refractive_index"``; its preferred figure is shown.

    Returns
    -------
    Search
        In the order of the table; ``.to_frame()`` gives a frame. Things never handled are among them, and say so.

    Raises
    ------
    InputError
        If nothing is asked for, or no substance on file has such a job, kind or property.

    Examples
    --------
    >>> "zinc oxide" in [row.name for row in substances(does="cover", known="refractive_index").found]
    True
    """
    if not (does or kind or known):
        raise InputError("nothing was asked for", "substances", 'Say a job, as in substances(does="cover").')
    jobs = {job for row in rows(Substance) for job in row.functions}
    kinds = {row.class_ for row in rows(Substance)}
    figures = {value.property for value in rows(PropertyValue)}
    wanted = known.strip().lower().replace(" ", "_")
    for asked, on_file in ((does, {job for job in jobs if _begins(job, does)}), (kind, kinds & {kind.strip().lower()})):
        if asked and not on_file:
            choice = sorted(jobs if asked is does else kinds)
            raise InputError(f"no substance on file has {asked!r}", "substances", f"On file: {', '.join(choice)}.")
    if wanted and wanted not in figures:
        raise InputError(f"no figure of {known!r} on file", "substances", f"On file: {', '.join(sorted(figures))}.")
    found = (
        row
        for row in rows(Substance)
        if (not does or any(_begins(job, does) for job in row.functions))
        and (not kind or row.class_ == kind.strip().lower())
        and (not wanted or properties(row.id, wanted))
    )
    asked_for = ", ".join(filter(None, (does, kind, known.replace("_", " "))))
    return Search(asked_for, tuple(found), wanted)


def _begins(job: str, words: str) -> bool:
    """Whether a job, or a word of it, begins with the words asked for."""
    asked = folded(words)
    return bool(asked) and (job.startswith(asked) or any(word.startswith(asked) for word in job.split()))


def _first(key: str, name: str) -> str:
    return _amount(properties(key, name)[0])


def _amount(value: PropertyValue) -> str:
    """Return a figure as its row has it, digits and all."""
    ends = [value.low, value.high] if value.low is not None and value.high is not None else [value.value]
    unit = "" if value.unit == "1" else f" {value.unit}"
    return " to ".join(f"{end:g}" for end in ends) + unit


def _figure(value: PropertyValue) -> tuple[str, ...]:
    return value.property.replace("_", " "), _amount(value), value.condition, _who(value.sources)


def _who(sources: tuple[Citation, ...]) -> str:
    """Return titles and places only; the whole entries stand in ``sources.json``."""
    titles = ((str(source_entries().get(one.key, {}).get("title", one.key)), one.place) for one in sources)
    return "; ".join(", ".join(filter(None, title_and_place)) for title_and_place in titles)


def _named(name: Name) -> tuple[str, ...]:
    when = f"{name.from_year or ''}-{name.to_year or ''}" if name.from_year or name.to_year else ""
    return name.name, name.standing, " ".join(filter(None, (name.language, "/".join(name.regions), when)))


def _ruled(rule: Rule) -> tuple[str, ...]:
    limit = "" if rule.limit_percent is None else f"{figure(rule.limit_percent)} %"
    return by_id(LawText)[rule.text].text, rule.rule, rule.entry, rule.use, limit
