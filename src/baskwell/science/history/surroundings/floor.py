"""How much room there was: measured, told by a tank's name, or no more than a word."""

from dataclasses import dataclass, field

import numpy as np

from baskwell.science.draws import Draws
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.spans import stated
from baskwell.science.history.surroundings.tanks import Tank, read_tank

_STREAM = "floor"


@dataclass(frozen=True)
class Floor:
    """Floor area in m2, long side and height in cm (draws, None = not known), and how they are known.

    ``by_word`` marks a floor that only a word tells ("small", "bucket"): wide, and to be asked for.
    """

    area_m2: Draws | None = field(repr=False)
    side_cm: Draws | None = field(repr=False)
    height_cm: Draws | None = field(repr=False)
    told: str
    by_word: bool = False
    gap: str = ""


def read_height(scene: Scene) -> Draws | None:
    """The stated height in cm, else that of the tank named, else None."""
    if scene.place.height_cm is not None:
        return stated(scene, scene.place.height_cm, "height")
    tanks = _tanks(scene)
    heights = [tank.height_cm for tank in tanks if tank.height_cm is not None]
    return np.array(heights)[_which(scene, tanks)] if tanks and len(heights) == len(tanks) else None


def read_floor(scene: Scene, middle_need_m2: Draws | None) -> Floor:
    """The floor: sides, area, tank name, else the judged meaning of a word for it or for its kind.

    ``middle_need_m2`` is what the middle one of the published rules asks for; "small" is a share of it.
    """
    place, height = scene.place, read_height(scene)
    if place.floor_cm is not None:
        one, other = (stated(scene, span, _STREAM) for span in place.floor_cm)
        return Floor(one * other / 10_000, np.maximum(one, other), height, "as told")
    if place.floor_m2 is not None:
        return Floor(stated(scene, place.floor_m2, _STREAM), None, height, "as told")
    tanks = _tanks(scene)
    if tanks:
        return _of_tanks(scene, tanks, height)
    gap = (
        f'The tank "{place.tank}" is not in the table of sizes: ask for its length and width.'
        if place.tank
        else ""
    )
    return _by_word(scene, middle_need_m2, height, gap)


def _tanks(scene: Scene) -> tuple[Tank, ...]:
    return read_tank(scene.place.tank, scene.evidence.tank_sizes) if scene.place.tank else ()


def _which(scene: Scene, tanks: tuple[Tank, ...]) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """Which of the sizes that the name may mean each world has: always the same for one scene."""
    return np.arange(scene.n_draws, dtype=np.int64) % len(tanks)


def _of_tanks(scene: Scene, tanks: tuple[Tank, ...], height: Draws | None) -> Floor:
    which = _which(scene, tanks)
    area = np.array([tank.floor_m2 for tank in tanks])[which]
    side = np.array([tank.length_cm for tank in tanks])[which]
    names = " or ".join(f"{tank.name} ({tank.length_cm:.0f} x {tank.width_cm:.0f} cm)" for tank in tanks)
    gap = ""
    if len(tanks) > 1:
        gap = f'"{scene.place.tank}" may be a {names}: ask for its length and width.'
    return Floor(area, side, height, f"for a tank {names}", gap=gap)


def _by_word(scene: Scene, need: Draws | None, height: Draws | None, gap: str) -> Floor:
    word, kind = scene.place.space, scene.place.container
    if word == "free_roaming":
        return Floor(
            scene.prior("free_roaming_m2", _STREAM), None, height, "going free in the rooms", True, gap
        )
    if word is not None and need is not None:
        told = f'guessed from "{word.replace("_", " ")}"'
        return Floor(need * scene.prior(f"space_{word}", _STREAM), None, height, told, True, gap)
    if kind is not None:
        return Floor(
            scene.prior(f"container_{kind}_m2", _STREAM), None, height, f'guessed from "{kind}"', True, gap
        )
    return Floor(None, None, height, "", gap=gap)
