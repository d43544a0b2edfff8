"""How far a nail grows outward and a beak off its midline, as angles between marked points.

Points are (x, y) in any one unit, y downward as in a photograph.
"""

import math

Point = tuple[float, float]


def outward_deg(base: Point, tip: Point, away: int) -> float:
    """Angle of a nail from straight down, positive away from the body.

    ``away`` is +1 where the outside of the foot lies to the right in the picture, -1 to the left. Range -180
    to 180 degrees; 0 grows straight down.

    >>> round(outward_deg((0, 0), (1, 1), away=1))
    45

    Raises ValueError where both points are one, or ``away`` is not 1 or -1.
    """
    if away not in (1, -1):
        raise ValueError(f"away is 1 (outside lies right) or -1 (left), got {away}.")
    return away * _from_down(base, tip)


def skew_deg(top: Point, bottom: Point, base: Point, tip: Point) -> float:
    """Angle of a beak (base to tip) from the midline of the head (top to bottom), positive to the right.

    >>> round(skew_deg((0, 0), (0, 10), (0, 6), (1, 12)), 1)     # atan(1/6)
    9.5

    Raises ValueError where two points of a line are one.
    """
    turn = _from_down(base, tip) - _from_down(top, bottom)
    return (turn + 180.0) % 360.0 - 180.0


def asymmetry_deg(left: float, right: float) -> float:
    """How much further the left side turns outward than the right, both positive outward.

    >>> asymmetry_deg(30.0, 12.0)
    18.0
    """
    return left - right


def _from_down(base: Point, tip: Point) -> float:
    across, down = tip[0] - base[0], tip[1] - base[1]
    if across == 0 and down == 0:
        raise ValueError(f"Both points are {base}: mark the base and the tip apart.")
    return math.degrees(math.atan2(across, down))
