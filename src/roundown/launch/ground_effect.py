"""What the deck under the wing leaves of the induced drag.

*Method:* phi = (16 h / b)^2 / (1 + (16 h / b)^2), the wing at height h, span b (J. D. Anderson, *Aircraft Performance
and Design*, 1999, Eq. 6.77). Another rule in use, Wieselsberger's, takes nearly twice as much away at h/b 0.1 to 0.15;
this one is the more careful for a run.

*Holds for:* over the deck only; past the bow the wing is far over the sea and the factor is 1.
"""

from __future__ import annotations


def ground_factor(wing_height: float, wing_span: float) -> float:
    """Part of the induced drag that is left, 0 to 1.

    wing_height : of the wing over the deck; wing_span : both [m]
    """
    square = (16.0 * wing_height / wing_span) ** 2
    return square / (1.0 + square)
