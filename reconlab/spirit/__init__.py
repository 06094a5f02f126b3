"""How strong is it? Proof, degrees and gravity to strength by weight and volume, density, shrinkage, dilution.

``mixtures`` holds ethanol and water, ``dilution`` what mixing makes of them, ``scales`` proof and hydrometers,
``strengths`` what names and printed strengths of a book meant there and then.
"""

from reconlab.spirit.dilution import Mixture, alligation, mix, to_make, water_by_volume, water_by_weight
from reconlab.spirit.mixtures import (
    SIXTY_F,
    by_volume,
    by_weight,
    by_weight_from_density,
    by_weight_from_gravity,
    specific_gravity,
    spirit_density,
)
from reconlab.spirit.scales import (
    degrees_from_gravity,
    from_degrees,
    gravity_from_degrees,
    scale_row,
    to_degrees,
)
from reconlab.spirit.strengths import named_strength, spirit_question, strength

__all__ = [
    "SIXTY_F",
    "Mixture",
    "alligation",
    "by_volume",
    "by_weight",
    "by_weight_from_density",
    "by_weight_from_gravity",
    "degrees_from_gravity",
    "from_degrees",
    "gravity_from_degrees",
    "mix",
    "named_strength",
    "scale_row",
    "specific_gravity",
    "spirit_density",
    "spirit_question",
    "strength",
    "to_degrees",
    "to_make",
    "water_by_volume",
    "water_by_weight",
]
