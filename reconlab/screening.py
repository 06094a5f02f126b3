"""May it touch skin, for this use, under this law, on this day? And what to mind in the workshop.

Two gates stop the bench: substances never handled, whatever the law asked about; then what the law forbids or limits
for the use. Everything that may be there is looked at, however unlikely. Nothing found is never called safe.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cache

import numpy as np

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError
from reconlab.formula import Formula
from reconlab.materia import alarms, harmful, thing, why_harmful
from reconlab.reasons import Reason, Value, figure
from reconlab.receipts import LAWS, Use
from reconlab.rulings import LENDER, Lent, every, is_about, lent, own
from reconlab.spirit import by_volume, flash_point
from reconlab.tables import Caution, LawText, Rule, by_id, rows
from reconlab.ways import Array

RESEARCH_AID = "A research aid, not a safety assessment: local rules and licensed practice come first."
STOPS = ("not allowed", "over the limit")
_WIDEST = (
    "A share held against a limit has the range of every way to read the page, so that the worst is seen; "
    "the formula's own ranges leave out what is seldom so."
)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Finding:
    """What one rule says of one substance that may be there."""

    substance: str
    rule: str  # forbidden, restricted, listed, pending, none found, not looked up
    here: str  # not allowed, over the limit, within the limit, undecided, conditions to meet, no limit
    law: str
    gate: str  # never handled, law or nothing
    found: Value | None
    limit: float | None
    reckoned_as: str
    entry: str
    law_read_as_of: str
    conditions: tuple[str, ...]
    warnings: tuple[str, ...]
    if_it_is: str  # substance id where the receipt may mean another thing
    reason: Reason
    share_of: str = ""  # what `found` is the share of, where a constituent is what the limit is about

    @property
    def stops(self) -> bool:
        """Whether it stops the bench."""
        return bool(self.gate) and self.here in STOPS

    def explain(self) -> Card:
        """Return the chain behind the finding."""
        return Card(str(self), chains=(self.reason,))

    def __str__(self) -> str:
        """Say it in one sentence."""
        doubt = "if it is " if self.if_it_is else ""
        if self.rule == "not looked up" and not thing(self.substance).identified:
            return f"{thing(self.substance).name}: not identified"
        if self.gate == "never handled":
            return f"{doubt}{thing(self.substance).name}: never handled, whatever the law"
        entry = f" ({self.law} {self.entry})" if self.entry else f" ({self.law})"
        amount = f", {self.found}" if self.found else ""
        limit = f" against a limit of {figure(self.limit)} %" if self.limit is not None else ""
        basis = f" reckoned as {self.reckoned_as}" if self.reckoned_as and self.limit is not None else ""
        named = self.share_of or thing(self.substance).name
        return f"{doubt}{named}{amount}: {self.rule}, {self.here}{entry}{limit}{basis}"

    __repr__ = __str__  # the whole chain is for `explain`


@dataclass(frozen=True, repr=False)
class Screening(Shown):
    """Everything found about a formula for a use."""

    title: str
    use: Use
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...]
    not_looked_up: tuple[str, ...]
    texts: tuple[LawText, ...]
    open_questions: tuple[str, ...] = field(default=())
    shut_out: tuple[str, ...] = field(default=())  # poisons on file that a decision has shut out

    @property
    def stops(self) -> tuple[Finding, ...]:
        """The findings that stop the bench."""
        return tuple(finding for finding in self.findings if finding.stops)

    @property
    def law_notes(self) -> tuple[str, ...]:
        """What was not asked or not looked up, in words."""
        if not self.use.law:
            return ("No law was asked about: only what is never handled was looked for.",)
        if not any(text.law == self.use.law for text in self.texts):
            return (f"No text of {self.use.law} law is on file: the law was not looked up.",)
        return (f"Not looked up: {', '.join(self.not_looked_up)}.",) if self.not_looked_up else ()

    @property
    def on_ranges(self) -> tuple[str, ...]:
        """Why a share held against a limit may have another range than in the formula."""
        held = any(finding.found and finding.limit is not None for finding in self.findings)
        return (_WIDEST,) if held else ()

    def card(self) -> Card:
        """Return the findings as a card."""
        shown = tuple(
            (
                ("if it is " if f.if_it_is else "") + thing(f.substance).name,
                f"{f.rule}: {f.here}",
                f"{f.law} {f.entry}".strip(),
                "; ".join((*f.conditions, *f.warnings)),
            )
            for f in self.findings
        )
        dates = tuple(f"{text.text}, as of {text.state_of}, read {text.read_on}" for text in self.texts)
        notes = (*self.law_notes, *self.shut_out, *self.on_ranges)
        answers = (f"A finding hangs on: {'; '.join(self.open_questions)}",) if self.open_questions else ()
        table = Table("", ("substance", "finding", "entry", "conditions and warnings"), shown)
        care = Table("In the workshop and in use", ("step", "mind"), tuple((c.step, c.words) for c in self.cautions))
        day = f", on {self.use.on}" if self.use.on else ""
        title = f"{self.title}: {self.use.form}, {self.use.law or 'no law asked for'}{day}"
        return Card(title, (*notes, *answers, *dates), (table, care), last=(RESEARCH_AID,))


def screen(formula: Formula, use: Use) -> Screening:
    r"""Return what law and good sense say of everything that may be in a formula, for a use.

    Parameters
    ----------
    formula : Formula
        The formula; a version after replacements is screened the same way.
    use : Use
        Form, law, day and wearer. Without a law only the first gate and the cautions are looked at.

    Returns
    -------
    Screening
        Findings, cautions, and what was not looked up.

    Raises
    ------
    InputError
        If the law is not one of EU, GB, US, CA.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> found = screen(translate(read("White lead, 1 oz.\nRose water, 8 oz.")), Use("liquid face white", law="EU"))
    >>> found.stops[0].gate
    'never handled'
    """
    _check_law(use)
    findings = [f for key in formula.possible() for f in _findings(formula, key, use)]
    order = ("never handled", "law", "")
    findings.sort(key=lambda f: (not f.stops, order.index(f.gate)))
    not_looked_up = tuple(dict.fromkeys(thing(f.substance).name for f in findings if f.rule == "not looked up"))
    borrowed = any(finding.entry.startswith(f"as {LENDER} ") for finding in findings)
    return Screening(
        title=formula.title,
        use=use,
        findings=tuple(findings),
        cautions=cautions(formula, use),
        not_looked_up=not_looked_up,
        texts=tuple(text for text in rows(LawText) if text.law == use.law or (borrowed and text.law == LENDER)),
        open_questions=_deciding(formula, findings),
        shut_out=tuple(_shut_out(formula)),
    )


def _shut_out(formula: Formula) -> Iterator[str]:
    """Say which poisons a decision has shut out, and why: a later reader must be able to doubt it."""
    for question in formula.ways.questions:
        for option in question.dropped:
            if thing(option.key).never_handled and question.settled:
                why = question.settled.because or "no reason given"
                yield f"{question.asks} On file: {option.words}; settled as {question.options[0].words}: {why}"


def cautions(formula: Formula, use: Use | None = None) -> tuple[Caution, ...]:
    r"""Return what to mind with everything that may be in a formula, in the order of work.

    Parameters
    ----------
    formula : Formula
        The formula.
    use : Use, optional
        The use: its form has cautions of its own.

    Returns
    -------
    tuple of Caution
        Each once.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> formula = translate(read("French chalk, 1 oz.\nStarch, 8 oz."))
    >>> any("breathe" in caution.words for caution in cautions(formula))
    True
    """
    about = {"any"} | ({f"form:{use.row.physical}"} if use else set())
    for key in formula.substances:
        what = thing(key)
        about |= {key, f"class:{what.class_}", f"state:{what.state}"}
    steps = ("weighing", "heating", "mixing", "filling", "wearing", "clearing up")
    found = [*(row for row in rows(Caution) if row.about in about), *_flash(formula)]
    return tuple(sorted(found, key=lambda row: steps.index(row.step)))


def _flash(formula: Formula) -> Iterator[Caution]:
    """Say from how warm the spirit in a formula can be set alight, as chosen; oils and all else are left out of it."""
    strength = formula.ethanol_in_water
    if strength is None:
        return
    try:
        flash = flash_point(strength)
    except InputError:  # weaker than the tables, or stronger: then it burns like pure spirit
        return
    low, high = round(flash.low), round(flash.high)
    between = f"{low} to {high}" if low < high else f"{low}"
    words = (
        f"Its ethanol and water alone, {by_volume(strength):.0f} % ethanol by volume, can be set alight from about"
        f" {between} degrees Celsius (oils, and what stands on your word, are not reckoned with): no flame and nothing"
        " hotter near it."
    )
    sources = flash.reason.all_sources()
    yield Caution(
        sources=sources,
        origin="flash_points.csv",
        own=False,
        id="flash",
        about="class:alcohol",
        step="mixing",
        words=words,
    )


def rules_for(substance: str, use: Use) -> tuple[str, ...]:
    """Return what the law asked about says of a substance for a use, whatever its share.

    Parameters
    ----------
    substance : str
        Id of the substance.
    use : Use
        Form, law, day and wearer.

    Returns
    -------
    tuple of str
        One sentence a rule, the strictest first; ``not looked up`` where no row speaks.

    Raises
    ------
    InputError
        If the law is not one of EU, GB, US, CA.

    Examples
    --------
    >>> rules_for("borax", Use("cold cream", law="EU"))
    ('not allowed (EU II 1396)',)
    """
    _check_law(use)
    if thing(substance).never_handled:
        return ("not allowed: never handled",)
    said = [_rule_words(rule, use) for rule in own(use.law, substance, use)]
    said += [_lent_words(row, use) for row in lent(use.law, substance, use)]
    return tuple(sorted(said, key=lambda words: not words.startswith("not allowed"))) or ("not looked up",)


def _check_law(use: Use) -> None:
    if use.law and use.law not in LAWS:
        raise InputError(f"law {use.law!r} is not one asked about here", "law", f"Use one of: {', '.join(LAWS)}.")


def _rule_words(rule: Rule, use: Use) -> str:
    limit = f" up to {figure(rule.limit_percent)} %" if rule.limit_percent is not None else ""
    basis = f" reckoned as {rule.reckoned_as}" if limit and rule.reckoned_as else ""
    says = "not allowed" if rule.rule == "forbidden" else f"{rule.rule}{limit}{basis}"
    when = f"from {rule.applies_from} " if _is_future(rule, use) else ""  # it does not stop anything today
    return f"{when}{says} ({use.law}{f' {rule.entry}' if rule.entry else ''})"


def _lent_words(row: Lent, use: Use) -> str:
    words = _rule_words(row.rule, use).replace(f"({use.law} ", f"({use.law} not read; as {LENDER} ")
    return words if row.binding or not words.startswith("not allowed") else f"undecided: {words}"


def _is_future(rule: Rule, use: Use) -> bool:
    return bool(use.on and rule.applies_from > use.on)


def _findings(formula: Formula, key: str, use: Use) -> Iterator[Finding]:
    what = thing(key)
    if what.never_handled and what.row:
        holds = "holds" if what.formula_known else "is made of"
        reason = what.row.reason(
            f"{what.name} {holds} {what.never_handled}: never handled, whatever the law asked about"
        )
        yield _never_handled(formula, key, reason)
    elif what.on_file and key not in _spoken_of() and harmful(key):
        says = f"a poison's word names {what.name}, and no law row on file limits it"
        yield _never_handled(formula, key, Reason(says, (), why_harmful(key)))
    elif not what.on_file and (heard := alarms(what.name)):
        yield _never_handled(
            formula, key, Reason(f"what {what.name!r} is has not been settled", (), (heard[0].reason,))
        )
    if not use.law:
        return
    applying, borrowed = own(use.law, key, use), lent(use.law, key, use)
    for rule in applying:
        yield _ruled(formula, key, rule, use)
    for row in borrowed:
        yield _borrowed(_ruled(formula, key, row.rule, use), row)
    if not applying and not any(row.binding for row in borrowed):
        known = f"has no row for {use.law} on file" if what.on_file else "is not on file"
        known = known if what.formula_known else "may hold anything its maker put in it"
        yield _not_looked_up(formula, key, use.law, Reason(f"{what.name} {known}"))


def _ruled(formula: Formula, key: str, rule: Rule, use: Use) -> Finding:
    text = by_id(LawText)[rule.text]
    future = _is_future(rule, use)
    day = f"{text.text}, as of {text.state_of}, read {text.read_on}"
    because = rule.reason(f"{text.law} {rule.entry}: {rule.use}", text.reason(day))
    found = _found_together(formula, key, rule, use)
    here = _here(rule, found)
    if here == "within the limit" and _more_of_it(formula, key, rule, use):
        here = "undecided"
    if future and here in STOPS:
        here = "undecided"  # it will not be allowed; it is today
    conditions = tuple(filter(None, (rule.conditions, f"applies from {rule.applies_from}" if future else "")))
    return Finding(
        substance=key,
        rule="pending" if future else rule.rule,
        here=here,
        law=use.law,
        gate="law" if here in STOPS else "",
        found=found,
        limit=rule.limit_percent,
        reckoned_as=rule.reckoned_as,
        entry=rule.entry,
        law_read_as_of=text.state_of,
        conditions=conditions,
        warnings=(rule.warnings,) if rule.warnings else (),
        if_it_is=_doubt(formula, key),
        reason=because,
        share_of=_share_of(formula, key, rule, use),
    )


def _borrowed(finding: Finding, row: Lent) -> Finding:
    """Return what EU law says, said for a law whose own list was not read."""
    here = finding.here if row.binding or finding.here not in STOPS else "undecided"
    return replace(
        finding,
        here=here,
        gate="law" if here in STOPS else "",
        entry=f"as {LENDER} {row.rule.entry}",
        conditions=(row.why, *finding.conditions),
        reason=Reason(row.why, (), (finding.reason,)),
    )


def _here(rule: Rule, found: Value | None) -> str:
    if rule.rule == "forbidden":
        return "not allowed"
    if rule.rule == "pending":
        return "undecided"
    if rule.limit_percent is None:
        return "conditions to meet" if rule.conditions or rule.warnings else "no limit"
    if found is None or (rule.reckoned_as and rule.reckoned_factor is None and found.high > rule.limit_percent):
        return "undecided"
    if found.number > rule.limit_percent:  # as chosen: one has to settle otherwise before it may be made
        return "over the limit"
    return "undecided" if found.high > rule.limit_percent else "within the limit"


def _found_together(formula: Formula, key: str, rule: Rule, use: Use) -> Value | None:
    """Return the share to hold against a limit: of all that the entry reckons together, in each way."""
    weighed = {part.substance for part in formula.parts}
    if key not in weighed:
        return None
    own_factor = 1.0 if rule.reckoned_factor is None else rule.reckoned_factor
    shares = formula.shares(key) * own_factor
    for other, row in _reckoned_with(weighed - {key}, rule, use):
        if row.reckoned_factor is not None:
            shares = shares + formula.shares(other) * row.reckoned_factor
    return _greatest(formula, key, shares)


def _share_of(formula: Formula, key: str, rule: Rule, use: Use) -> str:
    """Name the constituent a limit is about, and all that brings it; nothing where the share is the substance's own."""
    if rule.limit_percent is None or not rule.reckoned_as or rule.reckoned_factor is None:
        return ""
    weighed = {part.substance for part in formula.parts}
    others = [other for other, row in _reckoned_with(weighed - {key}, rule, use) if row.reckoned_factor is not None]
    brought = " and ".join(thing(one).name for one in (key, *others))
    return f"{rule.reckoned_as} of {brought}" if brought != rule.reckoned_as else ""


def _reckoned_with(others: Iterable[str], rule: Rule, use: Use) -> Iterator[tuple[str, Rule]]:
    """Give what an entry reckons together with a substance, each once however many of its lines are about the use."""
    if not rule.reckoned_as:
        return
    law = by_id(LawText)[rule.text].law
    for other in sorted(others):
        for row in every().get((law, other), ()):
            alike = (row.text, row.entry, row.reckoned_as) == (rule.text, rule.entry, rule.reckoned_as)
            if alike and is_about(row, use):
                yield other, row
                break


def _more_of_it(formula: Formula, key: str, rule: Rule, use: Use) -> bool:
    """Tell whether something holds what a limit is about, and nobody knows how much."""
    weighed = {part.substance for part in formula.parts}
    unknown = {other for other, row in _reckoned_with(weighed - {key}, rule, use) if row.reckoned_factor is None}
    return bool(unknown) or any(key in item.substances for item in formula.unweighed)


def _greatest(formula: Formula, key: str, shares: Array) -> Value:
    """Return a share with every way in its range: a limit is held against the worst, however seldom drawn."""
    there = formula.there(key)
    ends = shares[there] if there.any() else shares
    number = float(shares[0]) if there[0] else float(np.median(ends))
    return Value(number, float(ends.min()), float(ends.max()), "% w/w", formula.reason(key))


def _never_handled(formula: Formula, key: str, reason: Reason) -> Finding:
    unruled = _not_looked_up(formula, key, "any", reason)
    return replace(unruled, rule="forbidden", here="not allowed", gate="never handled")


def _not_looked_up(formula: Formula, key: str, law: str, reason: Reason) -> Finding:
    return Finding(
        substance=key,
        rule="not looked up",
        here="undecided",
        law=law,
        gate="",
        found=_greatest(formula, key, formula.shares(key)) if formula.there(key).any() else None,
        limit=None,
        reckoned_as="",
        entry="",
        law_read_as_of="",
        conditions=(),
        warnings=(),
        if_it_is=_doubt(formula, key),
        reason=reason,
    )


def not_identified(formula: Formula) -> Iterator[Finding]:
    r"""Give what nobody has named: it stops the bench under every law.

    Parameters
    ----------
    formula : Formula
        The formula, or a version of it.

    Yields
    ------
    Finding
        One for each thing that may be in it and is not on file.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> [found.substance for found in not_identified(translate(read("Zorblax, 1 oz.\nRose water, 8 oz.")))]
    ['not identified: zorblax']
    """
    for key in formula.possible():
        what = thing(key)
        if not what.identified:
            yield replace(_not_looked_up(formula, key, "", Reason(f"{what.name} is not on file")), if_it_is="")


def _doubt(formula: Formula, key: str) -> str:
    return "" if key in formula.as_chosen() else key


def _deciding(formula: Formula, findings: Iterable[Finding]) -> tuple[str, ...]:
    """Return the open questions on whose answer a finding hangs, each with what it does."""
    asked: dict[str, str] = {}
    for finding in findings:
        if finding.if_it_is and finding.stops:
            for question in formula.open_questions():
                if question.id.startswith("name: ") and finding.substance in {
                    o.key for o in getattr(question, "options", ())
                }:
                    asked[question.asks] = f"{question.asks} (if {thing(finding.substance).name}: {finding.here})"
        if finding.here == "undecided" and finding.rule != "pending" and finding.limit is not None and finding.found:
            asked.update({s.asks: f"{s.asks} ({s})" for s in formula.matters() if s.substance == finding.substance})
    return tuple(asked.values())


@cache
def _spoken_of() -> frozenset[str]:
    """Return what a law row forbids, limits or lists: of the rest only its name tells whether it can poison."""
    return frozenset(rule.substance for rule in rows(Rule) if rule.rule in ("forbidden", "restricted", "listed"))
