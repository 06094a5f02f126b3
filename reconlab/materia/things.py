"""What is known of a thing: its state and class, its density."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.materia.made import made_of
from reconlab.materia.words import folded, stems
from reconlab.reasons import Citation, Reason, Value
from reconlab.spirit import content_density, content_label, content_of, density_c, solute_of
from reconlab.tables import MadeKind, NameWord, Preparation, PropertyValue, Row, Strength, Substance, by_id, rows

LIQUID_STATES = ("liquid", "oil", "syrup")
UNKNOWN = "not identified: "  # starts the id of a thing nobody has named yet
ETHANOL, WATER = "ethanol", "water"  # what a spirit is made of
_PRINTED = " (printed: "
OWN_WORD = "own word: "  # starts the id of a thing a person has named, which the tables do not know


@dataclass(frozen=True, slots=True)
class Thing:
    """A substance or a preparation as later steps need it; an unidentified name is a thing too."""

    id: str
    name: str
    state: str
    class_: str
    never_handled: str
    row: Row | None

    @property
    def on_file(self) -> bool:
        """Whether the tables know it."""
        return self.row is not None

    @property
    def identified(self) -> bool:
        """Whether the tables know it, or a person has said what it is in words of her own."""
        return self.on_file or self.id.startswith(OWN_WORD)

    @property
    def formula_known(self) -> bool:
        """Whether it is known what is in it: not of a tincture, say, whose formula is not on file."""
        return not isinstance(self.row, MadeKind)

    @property
    def printed(self) -> str:
        """The printed name, where a person's own words stand for it."""
        before, mark, after = self.name.partition(_PRINTED)
        return after.removesuffix(")") if mark else before

    @property
    def liquid(self) -> bool:
        """Whether it flows at 20 degrees Celsius, and is measured as liquids are: quicksilver is always weighed."""
        return self.state in LIQUID_STATES and self.id != "mercury"


def thing(key: str) -> Thing:
    """Return a substance, preparation or spirit by id; any other key is a thing the tables do not know.

    Parameters
    ----------
    key : str
        Id of a substance, a preparation or a spirit, or ``not identified:`` or ``own word:`` and a name.

    Returns
    -------
    Thing
        What is known of it.

    Examples
    --------
    >>> thing("talc").name, thing("not identified: sea foam").identified
    ('talc', False)
    """
    found: Substance | Preparation | None = by_id(Substance).get(key) or by_id(Preparation).get(key)
    if made := made_of(key):
        return Thing(key, made.name, made.kind.state, made.kind.class_, made.never_handled, made.kind)
    if found is None and (solute := solute_of(key)):  # a spirit is ethanol with its water
        pure = by_id(Substance)[solute]
        return Thing(
            key, content_label(key), pure.state, pure.class_, pure.never_handled, by_id(Strength).get(key) or pure
        )
    if found is None:
        return Thing(key, key.removeprefix(UNKNOWN).removeprefix(OWN_WORD), "unknown", "unknown", "", None)
    poison = found.never_handled if isinstance(found, Substance) else ""
    return Thing(found.id, found.name, found.state, found.class_, poison, found)


# Common practice of the trade: what these words end in was weighed, and what those end in was measured.
_SOLID_WORDS = frozenset(
    {
        "bark", "barks", "root", "roots", "seed", "seeds", "leaf", "leaves", "flower", "flowers", "petals",
        "gum", "powder", "wood", "resin", "peel", "rind", "berries", "heads", "herb", "herbs", "tops",
        "husks", "soap", "wax", "tallow", "suet", "lard", "raisins", "almonds", "nuts", "chips", "shavings",
        "grease", "fat", "marrow", "butter",
        "salt", "lime", "clay", "earth", "chalk", "starch", "flour", "sugar", "camphor", "alum",
    }
)  # fmt: skip
_FLUID_WORDS = frozenset(
    {
        "water", "waters", "juice", "wine", "vinegar", "spirit", "spirits", "tincture", "liquor", "essence",
        "syrup", "milk", "elixir", "mixture", "lotion", "cordial", "drops", "draught", "julep", "gargle", "bitters",
        "ale", "beer", "wort", "stout", "cider", "brandy", "rum", "gin", "whisky", "whiskey", "laudanum", "oil",
    }
)  # fmt: skip


def state_by_name(name: str) -> str:
    """Return whether a thing that is not on file is solid or liquid by the last word of its name.

    Parameters
    ----------
    name : str
        As printed or as a person calls it.

    Returns
    -------
    str
        ``"solid"`` or ``"liquid"``; empty where the name does not say.

    Examples
    --------
    >>> state_by_name("poppy heads"), state_by_name("elder-flower water"), state_by_name("zorblax")
    ('solid', 'liquid', '')
    """
    last = "".join(letter if letter.isalpha() else " " for letter in name.lower()).split()[-1:]
    if _SOLID_WORDS.intersection(last):
        return "solid"
    return "liquid" if _FLUID_WORDS.intersection(last) else ""


def own_word(words: str, printed: str) -> str:
    """Return the id of a thing in a person's own words; the printed name beside them goes on being heard.

    Parameters
    ----------
    words : str
        What the person calls it.
    printed : str
        The name on the page; empty where it need not be kept.

    Returns
    -------
    str
        The id.

    Examples
    --------
    >>> thing(own_word("our white salt", "corrosive sublimate")).printed
    'corrosive sublimate'
    """
    return f"{OWN_WORD}{words}{_PRINTED}{printed})" if printed else f"{OWN_WORD}{words}"


def density(key: str) -> Value:
    """Return the density of a thing, or a stated wide spread where none is on file.

    Parameters
    ----------
    key : str
        Id of a substance or preparation.

    Returns
    -------
    Value
        Density [g/mL], from the lowest to the highest figure on file.

    Examples
    --------
    >>> print(density("water"))
    0.997 g/mL
    """
    what = thing(key)
    found = properties(key, "density")
    if not found and (strong := content_of(key)):
        return _density_of_solution(key, what.name, strong)
    says = f"density of {what.name}"
    if not found:
        default = "any_solid" if what.on_file and not what.liquid else "any_liquid"
        a_water = not what.on_file and what.name.split()[-1:] == ["water"]
        of_class = properties("class:aromatic water" if a_water else f"class:{what.class_}", "density")
        found = of_class or properties(default, "density")
        says = f"no density of {what.name} on file; taken as usual for its class or state"
    first = found[0]
    low, high = _limits(found)
    at = f" at {first.condition}" if first.condition else ""
    printed = f", printed {first.as_printed!r}" if first.as_printed else ""
    return Value(first.value, low, high, "g/mL", first.reason(f"{says}: {first.value:g} g/mL{at}{printed}"))


@cache
def _density_of_solution(key: str, name: str, strong: Value) -> Value:
    figures = (strong.number, strong.high, strong.low)
    number, *ends = (float(content_density(key, figure)) for figure in figures)
    reason = Reason(f"density of {name} at {density_c(key):.1f} C: {number:.4f} g/mL", (), (strong.reason,))
    return Value(number, min(*ends, number), max(*ends, number), "g/mL", reason)


def _limits(found: Sequence[PropertyValue]) -> tuple[float, float]:
    """Return the lowest and the highest figure of some rows."""
    lows = (row.value if row.low is None else row.low for row in found)
    highs = (row.value if row.high is None else row.high for row in found)
    return min(lows), max(highs)


def properties(key: str, name: str) -> tuple[PropertyValue, ...]:
    """Return the published values of one property of one substance, the preferred first.

    Parameters
    ----------
    key : str
        Id of a substance or preparation, or ``class:`` and a class.
    name : str
        Such as ``"density"``.

    Returns
    -------
    tuple of PropertyValue
        Empty where nobody has looked.

    Examples
    --------
    >>> properties("talc", "colour of the sea")
    ()
    """
    return _properties().get((key, name), ())


@cache
def _properties() -> Mapping[tuple[str, str], tuple[PropertyValue, ...]]:
    found: dict[tuple[str, str], tuple[PropertyValue, ...]] = {}
    for row in rows(PropertyValue):
        found[row.substance, row.property] = (*found.get((row.substance, row.property), ()), row)
    return found


def bulk_density(key: str) -> Value:
    """Return the density of a solid as it lies in a measure or a jar, air and all.

    Parameters
    ----------
    key : str
        Id of a substance.

    Returns
    -------
    Value
        Density [g/mL], from loose to tapped; where none is on file, that of its part of the plant, class or state.

    Examples
    --------
    >>> bulk_density("zinc_oxide").number < density("zinc_oxide").number
    True
    """
    loose, tapped = properties(key, "bulk_density"), properties(key, "tapped_density")
    if not loose:
        return _usual_heap(thing(key)) or _share_of_solid(key)
    low, high = _limits(loose)[0], _limits((*loose, *tapped))[1]
    says = f"bulk density of {thing(key).name}, printed {loose[0].as_printed!r}"
    return Value(loose[0].value, low, high, "g/mL", loose[0].reason(says))


def _usual_heap(what: Thing) -> Value | None:
    """Return how such a thing lies in a measure: by the part of the plant, by its class, or by its state."""
    kinds = (f"part:{_part_of(what)}", f"class:{what.class_}", f"state:{what.state}")
    found = next((values for kind in kinds if (values := properties(kind, "bulk_density"))), ())
    if not found:
        return None
    kind = found[0].substance.partition(":")[2]
    says = f"no bulk density of {what.name} on file; taken as usual for its kind ({kind}): {found[0].value:g} g/mL"
    return Value(found[0].value, *_limits(found), "g/mL", found[0].reason(says))


def _share_of_solid(key: str) -> Value:
    solid = density(key)
    words = f"{thing(key).name}: no bulk density on file; between a fifth of its true density and the whole"
    reason = Reason(words, (Citation("common_practice"),), (solid.reason,))
    return Value(solid.number / 2, solid.number / 5, solid.number, "g/mL", reason)


def _part_of(what: Thing) -> str:
    """Return the part of the plant a name tells, the last it has; of a thing not on file, only its last word."""
    words = stems(folded(what.printed.partition(" (")[0]).split())
    told = words if what.state == "plant part" else words[-1:] if not what.on_file else []
    return next((part for word in reversed(told) if (part := _plant_parts().get(word))), "")


@cache
def _plant_parts() -> Mapping[str, str]:
    listed = (row for row in rows(NameWord) if row.role == "part" and row.language == "en")
    return {word: row.stands_for for row in listed for word in stems((folded(row.word),))}
