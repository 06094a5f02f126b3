"""Hold screening to its two gates, to the law of the day, and to saying what nobody has looked up."""

import dataclasses

import numpy as np
import pytest

from reconlab.errors import InputError
from reconlab.formula import Formula, Replacement
from reconlab.materia import harmful, thing
from reconlab.reading import read
from reconlab.reasons import Decision, Option, Question, Reason
from reconlab.receipts import Use
from reconlab.screening import LAWS, RESEARCH_AID, Finding, Screening, cautions, rules_for, screen
from reconlab.tables import LawText, Rule, by_id, rows
from reconlab.translation import formula_of_shares, translate
from reconlab.ways import Ways

BEFORE, AFTER = "2026-12-31", "2027-01-01"  # the aluminium and citral limits apply from 1 January 2027
FACE, BODY, LIQUID, CREAM = "loose face powder", "dusting powder", "liquid powder", "cold cream"


def receipt(text: str, *decisions: Decision) -> Formula:
    return translate(read(text, years="1911", place="England"), decisions)


def label(**shares: float) -> Formula:
    """Return a formula of the shares given and talc up to a hundred."""
    rest = 100 - sum(shares.values())
    given = [(name, f"{share:.6f}") for name, share in shares.items()]
    return formula_of_shares("label", [*given, ("talc", f"{rest:.6f}")])


def found(formula: Formula, form: str, substance: str, law: str = "EU", on: str = "2026-11-01") -> dict[str, Finding]:
    """Return the findings on a substance by entry."""
    screening = screen(formula, Use(form, law, on))
    return {finding.entry: finding for finding in screening.findings if finding.substance == substance}


def outline(screening: Screening) -> list[tuple[str, str, str, str, str]]:
    return [(f.substance, f.rule, f.here, f.entry, f.gate) for f in screening.findings]


# The first gate.


@pytest.mark.parametrize("law", ["", *LAWS])
def test_lead_stops_the_bench_whatever_the_law(law: str) -> None:
    screening = screen(receipt("White lead, 1 oz.\nRose water, 8 oz."), Use("liquid face white", law))
    first = screening.stops[0]
    assert (first.substance, first.gate, first.here) == ("white_lead", "never handled", "not allowed")
    assert "whatever the law" in str(first)


def test_prussic_acid_stops_the_bench_too() -> None:
    screening = screen(receipt("Essential oil of bitter almonds, 10 drops.\nRose water, 8 oz."), Use("skin lotion"))
    assert [f.substance for f in screening.stops] == ["bitter_almond_oil"]


@pytest.mark.parametrize("amount", ["1 oz.", "q.s.", "0 oz.", ""])
def test_a_poison_counts_with_any_amount_with_none_and_with_nothing(amount: str) -> None:
    screening = screen(receipt(f"Rose water, 8 oz.\nWhite lead, {amount}"), Use("liquid face white", "EU"))
    assert {f.gate for f in screening.stops} == {"never handled", "law"}


def test_a_poison_alone_on_its_line_is_not_overlooked() -> None:
    formula = receipt("Rose water, 8 oz.\nWhite lead\nMix and strain.")
    assert screen(formula, Use("liquid face white")).stops
    assert any("check the reading of 'White lead'" in note for note in formula.notes)


def test_a_poison_of_share_nought_on_a_label_counts() -> None:
    screening = screen(formula_of_shares("label", [("white lead", "0"), ("talc", "100")]), Use(FACE))
    assert screening.stops


@pytest.mark.parametrize("name", ["Flake white", "Pearl white"])  # likely lead; unlikely lead
def test_a_poison_that_only_may_be_there_stops_the_bench_and_says_so(name: str) -> None:
    screening = screen(receipt(f"{name}, 1 oz.\nRose water, 8 oz."), Use("liquid face white"))
    stop = next(f for f in screening.stops if f.gate == "never handled")
    certain = name == "Flake white"  # the first answer holds until a decision settles it
    assert stop.if_it_is == ("" if certain else "white_lead")
    assert str(stop).startswith("if it is") != certain


def test_the_question_a_refusal_hangs_on_is_named() -> None:
    screening = screen(receipt("Pearl white, 1 oz.\nRose water, 8 oz."), Use("liquid face white"))
    assert any("Pearl white" in asked and "white lead" in asked for asked in screening.open_questions)


def test_a_decision_that_it_was_bismuth_opens_the_first_gate() -> None:
    settled = Decision(question="name: flake white", option="bismuth subnitrate", because="the shop's label")
    screening = screen(receipt("Flake white, 1 oz.\nRose water, 8 oz.", settled), Use("liquid face white", "EU"))
    assert not screening.stops
    assert "white_lead" not in {f.substance for f in screening.findings}


def test_every_identity_is_looked_at() -> None:
    formula = receipt("Pearl white, 1 oz.\nStarch, 8 oz.")
    screening = screen(formula, Use(FACE, "EU"))
    assert {f.substance for f in screening.findings} == set(formula.substances)


# The second gate.


@pytest.mark.parametrize(("law", "stops"), [("EU", True), ("GB", True), ("US", False), ("CA", False), ("", False)])
def test_borax_stops_by_eu_and_gb_law_only(law: str, *, stops: bool) -> None:
    screening = screen(receipt("Borax, 1 dr.\nWhite wax, 1 oz.\nOil of sweet almonds, 4 oz."), Use(CREAM, law))
    assert bool(screening.stops) == stops
    if stops:
        assert screening.stops[0].entry == "II 1396"
        assert screening.stops[0].gate == "law"


# Regulation (EC) No 1223/2009, Annexes II to IV, the Commission's export of 22 August 2026 (state of 18 August 2026):
# reference number with the line of the entry, and the greatest share it prints, in % of the finished thing.
EXPORT_2026_08_22 = [
    ("III 321 (a)", 25, "titanium_dioxide"),
    ("III 4", 6, "ammonia"),
    ("III 62 (a)", 2.5, "triethanolamine"),
    ("III 180", 0.6, "storax"),
    ("III 381 (c)", 3.18, "mica"),
    ("III 381 (d)", 14.62, "mica"),
    ("III 381 (e)", 0.89, "mica"),
    ("III 381 (g)", 7.14, "mica"),
    ("III 381 (h)", 0.15, "mica"),
    ("III 381 (i)", 6.7, "mica"),
    ("III 381 (j)", 23, "mica"),
    ("III 381 (o)", 10.59, "mica"),
    ("III 381 (p)", 0.86, "mica"),
    ("III 381 (q)", 3.81, "mica"),
    *(
        (f"III 70 ({line})", limit, oil)
        for oil in ("lemon_oil", "bergamot_oil", "geranium_oil")
        for line, limit in {"a": 0.11, "c": 0.65, "d": 0.6, "e": 0.15, "f": 0.35, "g": 1.2, "h": 1.2}.items()
    ),
]


@pytest.mark.parametrize(("entry", "limit", "substance"), EXPORT_2026_08_22)
def test_limits_are_those_of_the_official_export_of_2026(entry: str, limit: float, substance: str) -> None:
    mine = [row for row in rows(Rule) if row.entry == entry and row.substance == substance]
    assert {row.limit_percent for row in mine} == {limit}


@pytest.mark.parametrize(
    ("share", "here"), [(24.9, "within the limit"), (25, "within the limit"), (26, "over the limit")]
)
def test_titanium_dioxide_in_face_powder_is_held_to_25_percent(share: float, here: str) -> None:
    finding = found(label(titanium_dioxide=share), FACE, "titanium_dioxide")["III 321 (a)"]
    assert finding.here == here
    assert finding.stops == (here == "over the limit")
    assert finding.found is not None
    assert finding.found.number == pytest.approx(share)
    assert finding.limit == 25


def uncertain(pounds: int) -> Formula:
    """Return a powder with a pound or two of titanium white of which nobody knows whose pound it was."""
    chalk = translate(read(f"French chalk, {pounds} lb.\nPrecipitated chalk, 44 oz."))
    return chalk.replaced(Replacement(out="French chalk", into={"titanium dioxide": 1.0}), "white")


def test_a_range_on_both_sides_of_a_limit_is_undecided_and_names_what_decides() -> None:
    formula = uncertain(1)  # 12 of 56 ounces, or 16 of 60: 21.4 or 26.7 %
    screening = screen(formula, Use(FACE, "EU", "2026-11-01"))
    finding = next(f for f in screening.findings if f.entry == "III 321 (a)")
    assert finding.found is not None
    assert finding.found.low < 25 < finding.found.high
    assert finding.here == "undecided"
    assert not finding.stops
    assert any("Whose pounds" in asked for asked in screening.open_questions)


def test_a_range_wholly_above_a_limit_is_over_it() -> None:
    assert found(uncertain(2), FACE, "titanium_dioxide")["III 321 (a)"].here == "over the limit"


def test_a_limit_on_what_has_no_amount_is_undecided() -> None:
    formula = receipt("Oil of lemon, q.s.\nWhite wax, 1 oz.")
    assert found(formula, "lip salve", "lemon_oil", on=AFTER)["III 70 (a)"].here == "undecided"


@pytest.mark.parametrize(("share", "here"), [(1.9, "within the limit"), (2.1, "over the limit")])
def test_a_limit_is_held_against_what_it_is_reckoned_as(share: float, here: str) -> None:
    finding = found(label(lemon_oil=share), "lip salve", "lemon_oil", on=AFTER)["III 70 (a)"]
    assert finding.here == here
    assert finding.reckoned_as == "citral"
    assert finding.found is not None
    assert finding.found.number == pytest.approx(share * 0.055)  # the factor is a row of the table
    assert str(finding).startswith("citral of lemon oil, ")  # the share is the constituent's, and says so
    assert "reckoned as citral" in str(finding)


def test_a_share_says_all_that_brings_its_constituent_and_why_its_range_is_wide() -> None:
    screened = screen(label(lemon_oil=1, bergamot_oil=1), Use("lip salve", law="EU", on=AFTER))
    citral = [str(f) for f in screened.findings if f.entry == "III 70 (a)"]
    assert any(words.startswith("citral of lemon oil and bergamot oil") for words in citral)
    assert any("every way to read the page" in note for note in screened.card().notes)


def test_a_share_over_a_limit_that_cannot_be_reckoned_is_undecided() -> None:
    finding = found(label(mica=5), "hair powder", "mica", on=AFTER)["III 381 (h)"]
    assert (finding.here, finding.reckoned_as) == ("undecided", "aluminium")
    assert found(label(mica=0.1), "hair powder", "mica", on=AFTER)["III 381 (h)"].here == "within the limit"


def test_shares_of_a_label_are_not_stretched_to_a_hundred() -> None:
    short = formula_of_shares("label", [("titanium dioxide", "20")])
    finding = found(short, FACE, "titanium_dioxide")["III 321 (a)"]
    assert finding.here == "within the limit"
    assert "the rest" in screen(short, Use(FACE, "EU")).not_looked_up


@pytest.mark.parametrize(
    "shares", [[("talc", "101")], [("talc", "-1")], [("talc", "nan")], [("talc", "60"), ("mica", "60")], [(" ", "1")]]
)
def test_absurd_shares_are_refused(shares: list[tuple[str, str]]) -> None:
    with pytest.raises(InputError):
        formula_of_shares("label", shares)


# Dates and scope.


def test_a_rule_of_2027_is_pending_before_its_day_and_in_force_on_it() -> None:
    formula = label(lemon_oil=5)
    before = found(formula, "lip salve", "lemon_oil", on=BEFORE)["III 70 (a)"]
    after = found(formula, "lip salve", "lemon_oil", on=AFTER)["III 70 (a)"]
    assert (before.rule, before.here, before.stops) == ("pending", "undecided", False)
    assert "applies from 2027-01-01" in before.conditions
    assert (after.rule, after.here, after.stops) == ("restricted", "over the limit", True)


def test_a_rule_that_has_ended_is_gone() -> None:
    formula = label(mica=5)
    assert "none found" in {f.rule for f in found(formula, FACE, "mica", on=BEFORE).values()}
    assert "none found" not in {f.rule for f in found(formula, FACE, "mica", on=AFTER).values()}


def test_what_comes_later_is_said_of_a_substitute_with_its_day() -> None:
    assert "from 2027-01-01 restricted up to 23 % reckoned as aluminium (EU III 381 (j))" in rules_for(
        "mica", Use(FACE, "EU", BEFORE)
    )
    assert "restricted up to 23 % reckoned as aluminium (EU III 381 (j))" in rules_for("mica", Use(FACE, "EU", AFTER))


@pytest.mark.parametrize(
    ("form", "here"),
    [(LIQUID, "conditions to meet"), ("compressed powder", "conditions to meet"), (BODY, "not allowed")],
)
def test_zinc_oxide_is_a_white_but_not_where_it_can_be_breathed_in(form: str, here: str) -> None:
    assert found(label(zinc_oxide=20), form, "zinc_oxide")["IV 144"].here == here


@pytest.mark.parametrize(
    ("form", "entry", "here"),
    [
        (FACE, "III 321 (a)", "within the limit"),
        (BODY, "III 321 (c)", "not allowed"),
        (CREAM, "IV 143", "conditions to meet"),
        ("compressed powder", "IV 143", "conditions to meet"),
    ],
)
def test_titanium_dioxide_depends_on_where_the_powder_goes(form: str, entry: str, here: str) -> None:
    formula = label(titanium_dioxide=10)
    mine = found(formula, form, "titanium_dioxide")
    assert mine[entry].here == here
    assert ("III 321 (a)" in mine) == (form == FACE)


def test_a_rule_for_small_children_asks_who_wears_it() -> None:
    formula = label()
    child = screen(formula, Use(BODY, "EU", "2026-11-01", wearer="under 3 years"))
    assert "III 59 (a)" in {f.entry for f in child.findings}
    assert "III 59 (a)" not in found(formula, BODY, "talc")


# What nobody has looked up; sources; cautions.


@pytest.mark.parametrize("law", ["US", "CA"])
def test_a_law_without_rows_is_not_looked_up_and_never_none_found(law: str) -> None:
    screening = screen(label(kaolin=10), Use(CREAM, law))
    assert {f.rule for f in screening.findings} == {"not looked up"}
    assert set(screening.not_looked_up) == {"kaolin", "talc"}


def test_none_found_is_said_only_where_the_whole_text_was_searched() -> None:
    said = [row for row in rows(Rule) if row.rule == "none found"]
    assert said
    assert {by_id(LawText)[row.text].whole for row in said} == {"yes"}


def test_what_is_not_identified_is_not_looked_up() -> None:
    screening = screen(receipt("Flowers of Jupiter, 1 oz.\nRose water, 8 oz."), Use(CREAM, "EU"))
    finding = next(f for f in screening.findings if not thing(f.substance).identified)
    assert (finding.rule, finding.here) == ("not looked up", "undecided")
    assert screening.not_looked_up == ("flowers of jupiter",)
    assert "Not looked up: flowers of jupiter." in str(screening)


def test_nothing_found_is_never_called_safe() -> None:
    said = str(screen(label(), Use(CREAM, "US"))).lower()
    assert "safe" not in said.replace("safety assessment", "")


def test_every_finding_of_law_has_a_source_and_the_date_of_its_text() -> None:
    ruled = list(dict.fromkeys(row.substance for row in rows(Rule)))
    for start in range(0, len(ruled), 100):
        some = formula_of_shares("some", [(substance, "0.1") for substance in ruled[start : start + 100]])
        for form in (FACE, BODY, CREAM, "toilet water", "hair powder", "tooth powder", "soap", "lip salve"):
            for law in ("EU", "GB"):
                for finding in screen(some, Use(form, law, AFTER)).findings:
                    if finding.rule == "not looked up":
                        continue
                    assert finding.reason.all_sources(), str(finding)
                    assert finding.gate == "never handled" or finding.law_read_as_of, str(finding)


def test_the_texts_of_the_law_are_shown_with_their_days() -> None:
    said = str(screen(label(), Use(CREAM, "EU", "2026-11-01")))
    assert "as of 2026-08-18" in said
    assert RESEARCH_AID in said


def test_a_question_the_law_does_not_ask_about_changes_no_finding() -> None:
    formula = label(titanium_dioxide=10, zinc_oxide=5)
    why = Reason("as printed")
    extra = Question(
        "cover", "Was the book bound in cloth?", (Option("yes", "likely", why), Option("no", "possible", why))
    )
    ways = Ways((*formula.ways.questions, extra), formula.ways.spreads)
    once = np.ones((1, len(ways)))
    asked = dataclasses.replace(
        formula,
        ways=ways,
        line_amount=formula.line_amount[:, :1] * once,
        share_of_line=formula.share_of_line[:, :1] * once,
        density=formula.density[:, :1] * once,
        totals=(),
    )
    assert screen(asked, Use(FACE, "EU")).findings == screen(formula, Use(FACE, "EU")).findings


def test_knowing_year_and_place_changes_no_verdict_on_a_poison() -> None:
    text = "Flake white, 1 oz.\nOil of lemon, 20 drops.\nRose water, 1 pint."
    known, unknown = translate(read(text, years="1911", place="England")), translate(read(text))
    use = Use("liquid face white", "EU", BEFORE)
    assert outline(screen(known, use)) == outline(screen(unknown, use))


def test_cautions_belong_to_what_may_be_there() -> None:
    formula = receipt("Pearl white, 1 oz.\nRose water, 8 oz.")
    things = [thing(key) for key in formula.substances]
    about = {"any", "form:liquid", *formula.substances}
    about |= {f"class:{t.class_}" for t in things} | {f"state:{t.state}" for t in things}
    given = cautions(formula, Use("liquid face white"))
    assert {caution.about for caution in given} <= about
    assert any("Lead gets in" in caution.words for caution in given)  # it may be lead
    assert not any("Spirit" in caution.words for caution in given)


def test_each_kind_of_spirit_brings_its_caution_about_fire() -> None:
    for spirit in ("ethanol", "denatured ethanol"):
        formula = formula_of_shares("water", [(spirit, "80"), ("water", "20")])
        assert any("catches fire" in caution.words for caution in cautions(formula))


def test_cautions_come_in_the_order_of_work_each_once() -> None:
    steps = ("weighing", "heating", "mixing", "filling", "wearing", "clearing up")
    given = cautions(receipt("Talc, 1 oz.\nTalc, 2 oz.\nWhite wax, 1 oz."), Use(CREAM))
    assert [steps.index(c.step) for c in given] == sorted(steps.index(c.step) for c in given)
    assert len({c.id for c in given}) == len(given)


def test_a_law_nobody_knows_is_an_error_that_lists_the_laws() -> None:
    with pytest.raises(InputError, match="EU, GB, US, CA"):
        screen(label(), Use(CREAM, "FR"))
    with pytest.raises(InputError, match="EU, GB, US, CA"):
        rules_for("talc", Use(CREAM, "FR"))


def test_a_wearer_no_rule_asks_about_is_an_error() -> None:
    with pytest.raises(InputError, match="adult, under 3 years"):
        Use(BODY, "EU", wearer="baby")


@pytest.mark.parametrize("day", ["2026-13-45", "tomorrow", "1.11.2026", "20261101", "2026-02-30"])
def test_a_day_that_is_none_is_an_error(day: str) -> None:
    with pytest.raises(InputError, match="not a day"):
        Use(CREAM, "EU", day)


@pytest.mark.parametrize("key", ["salt", "mallow", "potassium_carbonate", "ammonium_chloride", "calcium_chloride"])
def test_a_household_thing_is_no_poison_for_a_word_in_one_of_its_names(key: str) -> None:
    assert not harmful(key)
