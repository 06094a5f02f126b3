"""Freezing: what was shown at the bench goes into the record word for word, so that later figures never change it."""

from __future__ import annotations

from reconlab.benchwork import Plan as BenchPlan
from reconlab.benchwork import bench
from reconlab.errors import ReconlabError
from reconlab.formula import Formula
from reconlab.receipts import Use
from reconlab.record.parts import Batch, Plan

CHANGED = "the receipt was changed after it was planned: plan it again"


def batch_of(plan: BenchPlan) -> Batch:
    r"""Return a plan, or a refusal, as the record keeps it.

    Parameters
    ----------
    plan : reconlab.benchwork.Plan
        As planned for the bench.

    Returns
    -------
    Batch
        Planned only; what is weighed and seen is added when it is made.

    Examples
    --------
    >>> from reconlab.benchwork import bench
    >>> from reconlab.reading import read
    >>> from reconlab.receipts import Use
    >>> from reconlab.translation import translate
    >>> formula = translate(read("Starch, 3 oz.\nOrris root, 1 oz.", years="1911", place="England"))
    >>> plan = bench(formula, make="50 g", balance="0.01 g", use=Use("violet powder"))
    >>> dict(batch_of(plan).plan.lines)
    {'1': '37.50 g', '2': '12.50 g'}
    """
    if plan.refused:
        return Batch(version=plan.version, refused="; ".join(str(finding) for finding in plan.refused))
    kept = Plan(
        make=f"{plan.make_g:g} g",
        lines={line.item: f"{plan.shown(line.rounded_g)} g" for line in plan.lines},
        container=f"{plan.container.holds_ml:g} mL" if plan.container else "",
        balance=f"{plan.balance_g:g} g",
        cautions=tuple(caution.words for caution in plan.cautions),
        text=str(plan),
    )
    return Batch(version=plan.version, plan=kept)


def still_planned(batch: Batch, formula: Formula | None, use: Use | None) -> Batch:
    r"""Return a batch as it stands after its formula may have changed.

    Parameters
    ----------
    batch : Batch
        As kept; what was made or weighed stands whatever changed since.
    formula : Formula, optional
        Its version as it is now; None where the page gives none.
    use : Use, optional
        What it is made for now.

    Returns
    -------
    Batch
        The same, or one that says to plan again: its grams are those of another formula.

    Examples
    --------
    >>> still_planned(Batch(version="safe"), None, None).refused
    'the receipt was changed after it was planned: plan it again'
    """
    if batch.made_on or batch.weighed:
        return batch
    kept = batch.plan
    try:
        if formula is None or use is None:
            return Batch(version=batch.version, refused=CHANGED)
        make, balance = kept.make or "50 g", kept.balance or "0.01 g"  # a refusal keeps neither
        now = batch_of(bench(formula, make=make, balance=balance, jar=kept.container, use=use))
    except ReconlabError:
        return Batch(version=batch.version, refused=CHANGED)
    same = (now.plan.text, now.refused) == (kept.text, batch.refused)  # the same grams may be of something else
    return batch if same else Batch(version=batch.version, refused=CHANGED)
