"""How strong is it? Proof, degrees and gravity to strength by weight and volume, density, shrinkage, dilution.

``mixtures`` holds ethanol and water, ``dilution`` and ``contraction`` what mixing makes of them, ``scales`` proof and
hydrometers, ``named`` and ``printed`` what names and printed strengths of a book meant there and then; ``solutions``
does the same for ammonia and acids.
"""

from reconlab.spirit.contraction import filled_up, lost_on_mixing
from reconlab.spirit.dilution import Mixture, alligation, mix, to_make, water_by_volume, water_by_weight
from reconlab.spirit.flash import flash_point
from reconlab.spirit.mixtures import (
    SIXTY_F,
    by_volume,
    by_weight,
    by_weight_from_density,
    by_weight_from_gravity,
    specific_gravity,
    spirit_density,
)
from reconlab.spirit.named import named_strength, nearest_names, spirit_options, spirit_question
from reconlab.spirit.printed import (
    PRINTED,
    StrengthReading,
    printed_strength,
    spirit_label,
    spirit_reference_c,
    strength_of,
    strength_question,
    strength_readings,
)
from reconlab.spirit.printed_words import gravity_in, named_gravity, without_stops
from reconlab.spirit.scales import (
    OF_GRAVITY,
    degrees_from_gravity,
    from_degrees,
    gravity_from_degrees,
    scale_row,
    spirit_scales,
    to_degrees,
)
from reconlab.spirit.solutions import (
    SOLUTION,
    SPIRIT,
    content_density,
    content_label,
    content_of,
    density_c,
    has_table,
    percents_from_gravity,
    printed_gravity,
    solute_of,
    solution_density,
    solution_gravity,
    solution_question,
)

__all__ = [
    "OF_GRAVITY",
    "PRINTED",
    "SIXTY_F",
    "SOLUTION",
    "SPIRIT",
    "Mixture",
    "StrengthReading",
    "alligation",
    "by_volume",
    "by_weight",
    "by_weight_from_density",
    "by_weight_from_gravity",
    "content_density",
    "content_label",
    "content_of",
    "degrees_from_gravity",
    "density_c",
    "filled_up",
    "flash_point",
    "from_degrees",
    "gravity_from_degrees",
    "gravity_in",
    "has_table",
    "lost_on_mixing",
    "mix",
    "named_gravity",
    "named_strength",
    "nearest_names",
    "percents_from_gravity",
    "printed_gravity",
    "printed_strength",
    "scale_row",
    "solute_of",
    "solution_density",
    "solution_gravity",
    "solution_question",
    "specific_gravity",
    "spirit_density",
    "spirit_label",
    "spirit_options",
    "spirit_question",
    "spirit_reference_c",
    "spirit_scales",
    "strength_of",
    "strength_question",
    "strength_readings",
    "to_degrees",
    "to_make",
    "water_by_volume",
    "water_by_weight",
    "without_stops",
]
