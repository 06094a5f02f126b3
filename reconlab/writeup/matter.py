"""What is there to write about? A record and all that follows from it, worked out once for every page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from math import fsum

from reconlab.benchwork import Plan, bench
from reconlab.comparison import Comparison, compare
from reconlab.errors import InputError
from reconlab.formula import Formula
from reconlab.reasons import Question, Reason, Spread
from reconlab.receipts import Receipt, Use
from reconlab.record import LITERAL, Batch, Reconstruction, formula_of, receipt_of
from reconlab.screening import Finding, Screening, screen

_GRAMS = re.compile(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*(?:g|grams?)?\s*")


@dataclass(frozen=True)
class Matter:
    """A record with its receipt, its formula before anything was settled, its versions, and what each allows."""

    record: Reconstruction
    receipt: Receipt
    unsettled: Formula
    versions: tuple[Formula, ...]
    screenings: Mapping[str, Screening]
    plans: Mapping[str, Plan]
    made: str
    stops: Mapping[str, tuple[Finding, ...]] = field(default_factory=dict)  # what stops the bench, by version
    faults: Mapping[str, str] = field(default_factory=dict)  # why a version cannot be planned as it is

    @property
    def literal(self) -> Formula:
        """The receipt as settled, nothing replaced."""
        return self.versions[0]

    @property
    def comparison(self) -> Comparison | None:
        """The versions beside each other, where there are two or more."""
        return compare(*self.versions, use=self.record.use) if len(self.versions) > 1 else None

    def planned(self, version: str) -> Batch | None:
        """Return the latest batch of a version whose plan is kept."""
        found = [batch for batch in self.record.batches if batch.version == version and batch.plan.lines]
        return found[-1] if found else None

    def refused(self, version: str) -> bool:
        """Whether a version is described and not made."""
        kept = any(batch.refused for batch in self.record.batches if batch.version == version)
        return kept or bool(self.stops.get(version))

    def line_names(self, version: str) -> Mapping[str, str]:
        """Return the names of a version's lines by their numbers."""
        found = next((one for one in self.versions if one.name == version), self.literal)
        return {line.item: f"{line.name} (line {line.item})" for line in found.lines}

    def question(self, key: str) -> Question | Spread | None:
        """Return a question by its id, with the answers it had before anything was settled."""
        return next((one for one in self.unsettled.ways.every_question if one.id == key), None)


def gathered(record: Reconstruction, made: str = "") -> Matter:
    r"""Return a record with everything its pages show.

    Parameters
    ----------
    record : Reconstruction
        The record.
    made : str
        The day the pages are made, in words or ISO 8601; empty leaves it out.

    Returns
    -------
    Matter
        To write about.

    Examples
    --------
    >>> matter = gathered(Reconstruction(title="Powder", transcription="Starch, 3 oz.\nOrris root, 1 oz."))
    >>> [version.name for version in matter.versions]
    ['literal']
    """
    names = (LITERAL, *(version.name for version in record.versions))
    versions = tuple(formula_of(record, name) for name in names)
    screenings = {version.name: screen(version, record.use) for version in versions} if record.use else {}
    matter = Matter(
        record,
        receipt_of(record),
        formula_of(replace(record, decisions=())),
        versions,
        screenings,
        {},
        made,
    )
    stops, faults = _tried(matter)
    return replace(matter, plans=dict(_plans(matter)), stops=stops, faults=faults)


def grams_kept(batch: Batch) -> Mapping[str, float]:
    """Return the grams of a kept plan that can be read as figures.

    Parameters
    ----------
    batch : Batch
        A batch with its plan.

    Returns
    -------
    mapping of str to float
        Line to grams.

    Examples
    --------
    >>> grams_kept(Batch())
    {}
    """
    found = {line: _GRAMS.fullmatch(words) for line, words in batch.plan.lines.items()}
    return {line: float(match[1].replace(",", ".")) for line, match in found.items() if match}


def _tried(matter: Matter) -> tuple[dict[str, tuple[Finding, ...]], dict[str, str]]:
    """Try a plan for each version: what stops the bench, and what has to be mended first."""
    stops: dict[str, tuple[Finding, ...]] = {}
    faults: dict[str, str] = {}
    for version in matter.versions:
        if matter.record.use is None:
            break
        stops[version.name] = matter.screenings[version.name].stops
        try:
            stops[version.name] = bench(version, make="50 g", balance="0.01 g", use=matter.record.use).refused
        except InputError as fault:
            faults[version.name] = f"{fault.found[:1].upper()}{fault.found[1:]}. {fault.remedy}"
    return stops, faults


def _plans(matter: Matter) -> Iterator[tuple[str, Plan]]:
    """Work out again what each version would be at the bench, beside its plan as kept."""
    for version in matter.versions:
        batch = matter.planned(version.name)
        use = matter.record.use
        if use is None or not version.lines:
            continue
        if batch is not None and grams_kept(batch):
            with suppress(InputError):  # a balance or jar in free words: the plan as kept stands without it
                yield version.name, _plan(version, batch, use)


def _plan(version: Formula, batch: Batch, use: Use) -> Plan:
    make = batch.plan.make or f"{fsum(grams_kept(batch).values()):.4f} g"
    return bench(version, make=make, balance=batch.plan.balance, jar=batch.plan.container, use=use)


def why_of(question: Question | Spread | None, answer: str) -> Reason | None:
    """Return why an answer to a question may hold.

    Parameters
    ----------
    question : Question, Spread or None
        The question.
    answer : str
        Key or words of the answer.

    Returns
    -------
    Reason or None
        The reason of the option; of a spread its own.

    Examples
    --------
    >>> why_of(None, "troy") is None
    True
    """
    if isinstance(question, Question):
        return next((option.reason for option in question.options if answer in (option.key, option.words)), None)
    return question.reason if question else None
