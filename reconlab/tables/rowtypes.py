"""The rows of the reference tables: one immutable type for each table, its columns as fields."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from reconlab.reasons import Citation, Reason, Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every row carries: who says so, and the file and line it stands in."""

    table: ClassVar[str]
    sources: tuple[Citation, ...]
    origin: str
    own: bool  # from the person's overlay

    def reason(self, says: str, *because: Reason) -> Reason:
        """Return a reason that rests on this row, and says so where the row is the person's own."""
        return Reason(f"{says} (your own table, {self.origin})" if self.own else says, self.sources, because)


@dataclass(frozen=True, slots=True, kw_only=True)
class Region(Row):
    """A place of a title page and the region whose measures hold there."""

    table: ClassVar[str] = "regions"
    place: str
    region: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Notation(Row):
    """A sign, abbreviation or word of a receipt and what it marks."""

    table: ClassVar[str] = "notation"
    printed: str
    meaning: str
    value: str
    written: str
    language: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PageWord(Row):
    """A word or phrase of a page, outside its ingredients, and what it says of the words around it."""

    table: ClassVar[str] = "page_words"
    printed: str
    meaning: str
    value: str
    language: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure(Row):
    """What a measure of one system weighed or held, exactly."""

    table: ClassVar[str] = "measures"
    id: str
    name: str
    system: str
    kind: str
    size: Fraction
    as_printed: str
    rival_of: str  # id of the preferred row, where this is another source's figure for the same measure
    rival_standing: Standing  # of such a figure beside a likely one; unlikely where empty


@dataclass(frozen=True, slots=True, kw_only=True)
class Custom(Row):
    """An answer to whose weights or whose measures, where, when and in which books it holds."""

    table: ClassVar[str] = "customs"
    id: str
    question: str
    custom: str
    label: str
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    books: tuple[str, ...]
    liquids: tuple[str, ...]  # it is a custom for, where not for all: ids, or last words of names
    standing: Standing
    because: str
    unplaced: str  # "yes" where it is also offered to a book whose place is not known


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomUnit(Row):
    """Which measure a unit means under a custom."""

    table: ClassVar[str] = "custom_units"
    custom: str
    unit: str
    written: str
    measure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop(Row):
    """What one drop of a liquid weighed, by one source."""

    table: ClassVar[str] = "drops"
    id: str
    liquid: str
    method: str
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    drop_mg: float | None
    drop_ul: float | None
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DomesticMeasure(Row):
    """What a spoon, a glass or a hand held, by one source."""

    table: ClassVar[str] = "domestic_measures"
    id: str
    measure: str
    of: tuple[str, ...]
    states: tuple[str, ...]
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    low: float | None
    value: float
    high: float | None
    unit: str
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedThing(Row):
    """What one of a thing weighed that receipts count, by one source."""

    table: ClassVar[str] = "counted_things"
    id: str
    names: tuple[str, ...]
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    low: float | None
    value: float
    high: float | None
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Substance(Row):
    """A thing in modern terms."""

    table: ClassVar[str] = "substances"
    id: str
    name: str
    inci: str
    cas: tuple[str, ...]
    formula: str
    state: str
    class_: str
    functions: tuple[str, ...]
    availability: str
    never_handled: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyValue(Row):
    """One published value of one property of one substance."""

    table: ClassVar[str] = "property_values"
    substance: str
    property: str
    low: float | None
    value: float
    high: float | None
    unit: str
    condition: str
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Name(Row):
    """One meaning of a name of the time."""

    table: ClassVar[str] = "names"
    name: str
    language: str
    meaning: str
    kind: str
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    standing: Standing
    because: str
    decides: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NameWord(Row):
    """What one word does inside a name: a head, a part of a plant, a quality that may be left off."""

    table: ClassVar[str] = "name_words"
    word: str
    language: str
    stands_for: str
    role: str
    only: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BookWord(Row):
    """What people call a book, and the kind of book it is."""

    table: ClassVar[str] = "book_words"
    word: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeKind(Row):
    """A kind of preparation by its head word, such as tincture, and of which things there is one."""

    table: ClassVar[str] = "made_kinds"
    kind: str
    says: str
    state: str
    class_: str
    of: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PoisonWord(Row):
    """A word of a period name behind which a poison may stand."""

    table: ClassVar[str] = "poison_words"
    word: str
    language: str
    family: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Preparation(Row):
    """A compound preparation a receipt calls for by name."""

    table: ClassVar[str] = "preparations"
    id: str
    name: str
    title: str
    book: str
    place: str
    from_year: int | None
    to_year: int | None
    state: str
    class_: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PreparationLine(Row):
    """One ingredient line of a compound preparation, as printed."""

    table: ClassVar[str] = "preparation_lines"
    preparation: str
    line: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormRow(Row):
    """A form a preparation is made in."""

    table: ClassVar[str] = "uses"
    form: str
    stays: str
    on: tuple[str, ...]
    physical: str
    dust: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LawText(Row):
    """A text of law and the state of it that was read."""

    table: ClassVar[str] = "laws"
    id: str
    law: str
    text: str
    state_of: str
    read_on: str
    whole: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule(Row):
    """What a text of law says of a substance for a use."""

    table: ClassVar[str] = "rules"
    id: str
    text: str
    substance: str
    rule: str
    entry: str
    use: str
    on: tuple[str, ...]
    physical: tuple[str, ...]
    dust: str
    stays: str
    wearer: str
    limit_percent: float | None
    reckoned_as: str
    reckoned_factor: float | None
    conditions: str
    warnings: str
    applies_from: str
    applies_until: str
    act: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Row):
    """What to mind, and at which step."""

    table: ClassVar[str] = "cautions"
    id: str
    about: str
    step: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase(Row):
    """Which classes go together at the bench, and in what order."""

    table: ClassVar[str] = "phases"
    class_: str
    phase: str
    place: str
    goes_with: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitute(Row):
    """What may stand in for a substance, by what it did."""

    table: ClassVar[str] = "substitutes"
    id: str
    substance: str
    did: str
    forms: tuple[str, ...]
    substitute: str
    basis: str
    low: float | None
    ratio: float | None
    high: float | None
    because: str
    lost: str
    also_change: str
    cautions: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Term(Row):
    """A figure's name, unit and meaning."""

    table: ClassVar[str] = "terms"
    term: str
    unit: str
    meaning: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DensityCoefficient(Row):
    """A coefficient of the formula for the density of ethanol and water."""

    table: ClassVar[str] = "alcohol_density_coefficients"
    term: str
    strength_power: int
    temperature_power: int
    coefficient: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CartierDegree(Row):
    """What Cartier's hydrometer shows in spirit of one strength."""

    table: ClassVar[str] = "cartier_degrees"
    percent_v_v: float
    degrees: float
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthScale(Row):
    """What a degree of proof or of a hydrometer means, and between which degrees."""

    table: ClassVar[str] = "strength_scales"
    id: str
    scale: str
    said: tuple[str, ...]
    said_below: tuple[str, ...]
    label: str
    form: str
    modulus: float | None
    zero: float | None
    reference_c: float | None
    low: float | None
    high: float | None
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength(Row):
    """One strength that a name of spirit had, and where, when and in which books."""

    table: ClassVar[str] = "strengths"
    id: str
    names: tuple[str, ...]
    language: str
    label: str
    solute: str
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    books: tuple[str, ...]
    standing: Standing
    unit: str
    low: float | None
    value: float
    high: float | None
    reference_c: float | None
    as_printed: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SolutionDensity(Row):
    """The specific gravity of a solution of one strength."""

    table: ClassVar[str] = "solution_densities"
    substance: str
    percent_w_w: float
    sp_gr: float
    reference_c: float | None
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FlashPoint(Row):
    """From how warm the vapour of ethanol and water of one strength can be set alight."""

    table: ClassVar[str] = "flash_points"
    percent: float
    basis: str
    flash_c: float
    as_printed: str


KINDS: tuple[type[Row], ...] = (
    Region,
    Notation,
    PageWord,
    Measure,
    Custom,
    CustomUnit,
    Drop,
    DomesticMeasure,
    CountedThing,
    Substance,
    PropertyValue,
    Name,
    NameWord,
    MadeKind,
    PoisonWord,
    Preparation,
    PreparationLine,
    FormRow,
    LawText,
    Rule,
    Caution,
    Phase,
    Substitute,
    Term,
    DensityCoefficient,
    CartierDegree,
    StrengthScale,
    Strength,
    SolutionDensity,
    FlashPoint,
)
