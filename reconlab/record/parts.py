"""What is in a record: what was found, what was decided, what was made and seen.

Every part is what a person wrote or was shown; nothing here is reckoned. The names of the fields are the keys
of the file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Literal

from reconlab.formula import Replacement
from reconlab.reasons import Decision
from reconlab.receipts import Setting, Use

FORMAT: Literal[1] = 1
LITERAL = "literal"  # the version every other goes back to: the receipt as decided, nothing replaced

BASES = ("mass", "volume")
CHANGE_KINDS = ("safety", "law", "availability", "cost", "ethics", "legibility", "scale")


@dataclass(frozen=True, slots=True, kw_only=True)
class Inquiry:
    """What the reconstruction is to find out, what counts as success, what may differ, whom it will touch."""

    asked: str = ""
    success: str = ""
    departures: tuple[str, ...] = ()
    touches: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """The book the receipt stands in, and where and when it was seen."""

    book: str = ""
    author: str = ""
    years: str = ""
    place: str = ""
    kind: str = ""  # of book, such as dispensing
    page: str = ""
    publisher: str = ""
    address: str = ""
    seen: str = ""  # day, ISO 8601
    note: str = ""
    rule: str = ""  # the author's own rule of weights
    text_years: str = ""  # of a reprint or translation: when its words were first written
    text_place: str = ""  # and where

    @property
    def setting(self) -> Setting:
        """When and where the book was printed, and its kind, as the reading asks for it."""
        return Setting(self.years, self.place, self.kind, self.rule, self.text_years, self.text_place)


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """A version by its name, the version it starts from, and what is changed."""

    name: str
    parent: str = LITERAL
    changes: tuple[Replacement, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The plan of a batch as it was shown, word for word; later figures never change it."""

    make: str = ""  # how much, such as 50 g
    lines: Mapping[str, str] = field(default_factory=dict)  # line -> grams as printed in the plan
    container: str = ""
    balance: str = ""
    cautions: tuple[str, ...] = ()
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """What was planned and weighed at the bench; without a day it is planned only."""

    version: str = LITERAL
    made_on: str = ""  # day, ISO 8601
    plan: Plan = Plan()
    weighed: Mapping[str, float] = field(default_factory=dict)  # line -> grams as taken
    notes: str = ""
    refused: str = ""  # why it is described and not made


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """What was seen, when, of which version or batch ("batch 1" is the first), how long after the making."""

    of: str
    what: str
    on: str = ""  # day, ISO 8601
    after: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TablesUsed:
    """Which tables stood behind the record when it was saved."""

    overlay: str = ""  # checksum of the person's own tables
    library: str = ""  # version of this library


@dataclass(frozen=True, slots=True, kw_only=True)
class Reconstruction:
    """All that is kept of a reconstruction; everything else is reckoned from it again."""

    __pydantic_config__: ClassVar[Mapping[str, object]] = {
        "extra": "forbid",
        "strict": True,
        "allow_inf_nan": False,
    }

    format: Literal[1] = FORMAT
    title: str = ""
    invented: bool = False  # the source is invented for a demonstration; shown wherever the record is
    question: Inquiry = Inquiry()
    source: Source = Source()
    transcriber: str = ""
    transcription: str = ""  # exactly as printed
    decisions: tuple[Decision, ...] = ()
    use: Use | None = None
    versions: tuple[Version, ...] = ()
    batches: tuple[Batch, ...] = ()
    observations: tuple[Observation, ...] = ()
    tables: TablesUsed = TablesUsed()
