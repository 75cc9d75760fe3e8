"""US customary units in SI, for formulas and tables published in them."""

from __future__ import annotations

from typing import Final

INCH: Final = 25.4
"""mm."""
POUND_FORCE: Final = 4.4482216152605
"""N."""
POUND_MASS: Final = 0.45359237
"""kg."""
PSI: Final = POUND_FORCE / INCH**2
"""MPa."""
PSF: Final = PSI / 144
"""MPa."""
PLF: Final = POUND_FORCE / (12 * INCH)
"""N/mm."""
GRAVITY: Final = 9.80665
"""m/s2, standard."""
