"""The shape of the body: ellipsoids on segments, as fractions of stature.

Each ellipsoid has a centre in the frame of its segment and half axes (depth X, height Y, width Z).
The numbers were set by eye so that the outline is friendly and prints well; only lengths are anthropometry
(``handouts.figure.body.body``).  Never poses or draws.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from handouts.figure.body.joints import SIDES
from handouts.figure.body.people import Person

Triple = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class TrunkSection:
    """A cross-section of the trunk: height above the hip centres, half depth, half width, shift forward."""

    height: float
    depth: float
    width: float
    forward: float


TRUNK_SECTIONS = (
    TrunkSection(-0.030, 0.050, 0.070, -0.004),
    TrunkSection(0.000, 0.062, 0.0905, -0.006),
    TrunkSection(0.045, 0.060, 0.0865, -0.004),
    TrunkSection(0.090, 0.0550, 0.0770, 0.002),
    TrunkSection(0.135, 0.0555, 0.0765, 0.003),
    TrunkSection(0.180, 0.0605, 0.0840, 0.003),
    TrunkSection(0.225, 0.0635, 0.0905, 0.001),
    TrunkSection(0.262, 0.0570, 0.0900, -0.004),
    TrunkSection(0.290, 0.0400, 0.0640, -0.008),
    TrunkSection(0.304, 0.0330, 0.0400, -0.009),
)


@dataclass(frozen=True, slots=True)
class Lump:
    """One ellipsoid."""

    name: str
    segment: str
    centre: Triple
    radii: Triple


THIGH_STATIONS = ((0.03, 0.0475, 0.0), (0.25, 0.0500, 0.004), (0.50, 0.0450, 0.006), (0.75, 0.0390, 0.005),
                  (1.0, 0.0335, 0.002))  # fmt: skip
SHANK_STATIONS = ((0.02, 0.0320, 0.0), (0.28, 0.0330, -0.008), (0.52, 0.0285, -0.006), (0.80, 0.0215, -0.001),
                  (0.98, 0.0200, 0.0))  # fmt: skip
UPPER_ARM_STATIONS = ((0.0, 0.0290, 0.0), (0.25, 0.0295, 0.001), (0.55, 0.0262, 0.001), (0.85, 0.0230, 0.0),
                      (1.0, 0.0220, 0.0))  # fmt: skip
FOREARM_STATIONS = ((0.02, 0.0220, 0.0220), (0.25, 0.0240, 0.0222), (0.60, 0.0195, 0.018), (0.97, 0.0158, 0.0135))
"""Stations along a limb: fraction of its length below the joint, radius, and shift forward (forearm: second radius)."""


def _widths(person: Person) -> tuple[float, ...]:
    """The factor of each section's width: hips, waist, shoulders, and what lies between."""
    hips, waist, wide = person.hips, person.waist, person.shoulders
    return (hips, hips, (hips + waist) / 2, waist, waist, waist, (waist + wide) / 2, wide, wide, 1.0)


def _trunk(build: float, person: Person) -> list[Lump]:
    found = []
    widths = _widths(person)
    for number, section in enumerate(TRUNK_SECTIONS):
        girth = build if 0 < number < 8 else 1 + (build - 1) * 0.5
        belly = (build - 1) * 0.5 * section.depth if 2 <= number <= 5 else 0.0
        found.append(Lump(f"sec{number}", f"sp{number}", (section.forward + belly * 0.6, 0, 0),
                          (section.depth * girth + belly * 0.6, 0.017, section.width * girth * widths[number])))  # fmt: skip
    return found


def _leg(side: str, z: int, build: float, person: Person) -> list[Lump]:
    girth = (1 + (build - 1) * 0.75) * person.limbs
    found = [Lump(f"glute.{side}", "sp1", (-0.030, -0.016, 0.043 * z), (0.043 * build, 0.050, 0.045 * build * person.hips))]
    for number, (along, radius, forward) in enumerate(THIGH_STATIONS):
        out = 0.003 * z if along < 0.3 else 0.0
        found.append(Lump(f"th{number}.{side}", f"thigh.{side}", (forward, -along * 0.245, out),
                          (radius * girth, radius * 0.8, radius * girth)))  # fmt: skip
    found.append(Lump(f"patella.{side}", f"thigh.{side}", (0.012, -0.245, 0), (0.0250 * girth, 0.027, 0.026 * girth)))
    for number, (along, radius, forward) in enumerate(SHANK_STATIONS):
        found.append(Lump(f"sh{number}.{side}", f"shank.{side}", (forward, -along * 0.246, 0),
                          (radius * girth, radius * 0.8, radius * girth)))  # fmt: skip
    foot, toes = f"foot.{side}", f"toes.{side}"
    found += [
        Lump(f"collar.{side}", foot, (-0.001, 0.002, 0), (0.0225, 0.012, 0.0210)),
        Lump(f"heel.{side}", foot, (-0.022, -0.0185, 0), (0.0185, 0.0145, 0.0180)),
        Lump(f"mid.{side}", foot, (0.030, -0.0180, 0), (0.022, 0.0175, 0.0225)),
        Lump(f"ball.{side}", foot, (0.068, -0.0225, 0.002 * z), (0.020, 0.0115, 0.0258)),
        Lump(f"soleh.{side}", foot, (-0.022, -0.0340, 0), (0.0200, 0.0050, 0.0190)),
        Lump(f"soleb.{side}", foot, (0.068, -0.0340, 0.002 * z), (0.020, 0.0050, 0.0270)),
        Lump(f"toe.{side}", toes, (0.022, 0.0065, 0), (0.0190, 0.0105, 0.0220)),
        Lump(f"solet.{side}", toes, (0.021, -0.0040, 0), (0.0210, 0.0050, 0.0230)),
    ]
    return found


def _arm(side: str, z: int, build: float, person: Person) -> list[Lump]:
    girth = (1 + (build - 1) * 0.75) * person.limbs
    found = [
        Lump(f"trap.{side}", f"clav.{side}", (-0.004, 0.000, -0.020 * z), (0.027, 0.022, 0.024)),
        Lump(f"pec.{side}", "sp7", (0.020, -0.030, 0.045 * z), (0.036 * build * person.chest, 0.036, 0.044 * build)),
    ]
    for number, (along, radius, forward) in enumerate(UPPER_ARM_STATIONS):
        out = 0.003 * z if along < 0.3 else 0.0
        found.append(Lump(f"ua{number}.{side}", f"uarm.{side}", (forward, -along * 0.186, out),
                          (radius * girth, radius * 0.85, radius * girth * 0.95)))  # fmt: skip
    for number, (along, radius, width) in enumerate(FOREARM_STATIONS):
        found.append(Lump(f"fa{number}.{side}", f"farm.{side}", (0, -along * 0.146, 0),
                          (radius * girth, radius * 0.9, width * girth)))  # fmt: skip
    hand = f"hand.{side}"
    found += [
        Lump(f"wr.{side}", hand, (0, -0.004, 0), (0.0155, 0.010, 0.0125)),
        Lump(f"palm.{side}", hand, (0.002, -0.032, 0), (0.0225, 0.026, 0.0125)),
        Lump(f"kn.{side}", hand, (0.000, -0.052, 0), (0.0215, 0.010, 0.0110)),
        Lump(f"fi1.{side}", f"fing1.{side}", (0, -0.022, 0), (0.0190, 0.012, 0.0095)),
        Lump(f"fi2.{side}", f"fing2.{side}", (0, -0.014, 0), (0.0160, 0.012, 0.0085)),
        Lump(f"tb0.{side}", hand, (0.014, -0.018, -0.004 * z), (0.009, 0.010, 0.009)),
        Lump(f"tb1.{side}", hand, (0.026, -0.036, -0.010 * z), (0.0080, 0.009, 0.0080)),
        Lump(f"tb2.{side}", hand, (0.028, -0.050, -0.014 * z), (0.0070, 0.009, 0.0070)),
    ]
    return found


def _head() -> list[Lump]:
    return [
        Lump("neck0", "neck", (0, 0.000, 0), (0.0325, 0.014, 0.0325)),
        Lump("neck1", "neck", (0.003, 0.040, 0), (0.0280, 0.014, 0.0280)),
        Lump("neck2", "head", (-0.006, 0.010, 0), (0.0285, 0.020, 0.0275)),
        Lump("skull", "head", (-0.002, 0.046, 0), (0.0620, 0.0610, 0.0505)),
        Lump("brow", "head", (0.016, 0.032, 0), (0.0450, 0.0430, 0.0435)),
        Lump("jaw", "head", (0.024, -0.003, 0), (0.0290, 0.0285, 0.0300)),
        Lump("chin", "head", (0.040, -0.016, 0), (0.0145, 0.0135, 0.0160)),
        Lump("nose0", "head", (0.0540, 0.0400, 0), (0.0060, 0.0060, 0.0045)),
        Lump("nose", "head", (0.0630, 0.0235, 0), (0.0085, 0.0075, 0.0068)),
    ]


_STUMP = {"shank": ("sh", SHANK_STATIONS, 0.246, 0.45), "thigh": ("th", THIGH_STATIONS, 0.245, 0.60),
          "forearm": ("fa", FOREARM_STATIONS, 0.146, 0.50), "upper-arm": ("ua", UPPER_ARM_STATIONS, 0.186, 0.55)}  # fmt: skip
"""Of a limb that ends early in a segment: its ellipsoids, their stations, its length, and the share of it that is there."""
_SEGMENTS = {"shank": "shank", "thigh": "thigh", "forearm": "farm", "upper-arm": "uarm"}
_BEYOND = {"shank": ("foot", "toes"), "thigh": ("shank", "foot", "toes"), "forearm": ("hand", "fing1", "fing2"),
           "upper-arm": ("farm", "hand", "fing1", "fing2")}  # fmt: skip
"""Segments beyond the end."""
_NOTHING = 0.003
"""Half axes of ellipsoids that are not there: they lie inside the end of the limb."""


def _ended(lump: Lump, end: str, side: str) -> Lump:
    """An ellipsoid of a body whose limb ends early: nearer, or inside the limb's end."""
    short, stations, length, share = _STUMP[end]
    own = _SEGMENTS[end]
    name, _, lump_side = lump.name.partition(".")
    if lump_side != side:
        return lump
    segment = lump.segment.partition(".")[0]
    if segment in _BEYOND[end] or (end == "thigh" and name == "patella"):
        return Lump(lump.name, f"{own}.{side}", (0.0, -length * share, 0.0), (_NOTHING, _NOTHING, _NOTHING))
    if segment != own or not name.startswith(short):
        return lump
    x, y, z = lump.centre
    last = int(name[2:]) == len(stations) - 1
    radii = tuple(max(radius, stations[-2][1]) for radius in lump.radii) if last else lump.radii
    return replace(lump, centre=(x, y * share, z), radii=radii)  # type: ignore[arg-type]


def body_lumps(build: float, person: Person, without: tuple[str, ...] = ()) -> tuple[Lump, ...]:
    """All ellipsoids of a body; ``build`` is a factor on girths; ``without`` are limbs that end early, as 'shank.r'."""
    girth = build * person.girth
    found = _trunk(girth, person)
    for side, z in zip(SIDES, (1, -1), strict=True):
        found += _leg(side, z, girth, person) + _arm(side, z, girth, person)
    for lump in _head():
        grows = person.head if lump.segment == "head" and lump.name != "neck2" else 1.0
        centre, radii = (tuple(one * grows for one in each) for each in (lump.centre, lump.radii))
        found.append(replace(lump, centre=centre, radii=radii))  # type: ignore[arg-type]
    for end in without:
        found = [_ended(lump, end[:-2], end[-1]) for lump in found]
    return tuple(found)
