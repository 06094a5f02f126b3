"""Freezing: what was shown at the bench goes into the record word for word, so that later figures never change it."""

from __future__ import annotations

from reconlab.benchwork import Plan as BenchPlan
from reconlab.record.parts import Batch, Plan


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
