"""The formulas of the working, derived by SymPy from how a turning body moves; each is written once and kept.

A blade that turns by a small angle about its instant centre C moves every point B of it square to the line from C:
what stands to the right of C rises by its level distance times the angle.
"""

from functools import cache

import sympy as sp

from app.document.parts import ENDS, OTHER, EndName
from app.sources import KINDS
from app.working.formula import Law


def _symbols(names: str) -> list[sp.Symbol]:
    return list(sp.symbols(names, real=True))


_ANGLE = sp.Symbol("angle", real=True)


def _turned(x: sp.Expr, y: sp.Expr) -> sp.Matrix:
    """How a point moves per radian the blade turns about C."""
    x_c, y_c = _symbols("x_C y_C")
    turn = sp.Matrix([[sp.cos(_ANGLE), -sp.sin(_ANGLE)], [sp.sin(_ANGLE), sp.cos(_ANGLE)]])
    arm = sp.Matrix([x - x_c, y - y_c])
    return (turn * arm).diff(_ANGLE).subs(_ANGLE, 0)


@cache
def meeting() -> tuple[Law, Law, Law]:
    """Where the line through 1 along (a_1, b_1) meets the one through 2: how far along the first, then x and y."""
    x1, y1, a1, b1, x2, y2, a2, b2 = _symbols("x_1 y_1 a_1 b_1 x_2 y_2 a_2 b_2")
    t, s, x_c, y_c = _symbols("t s x_C y_C")
    found = sp.solve([x1 + t * a1 - x2 - s * a2, y1 + t * b1 - y2 - s * b2], [t, s], dict=True)[0][t]
    top, bottom = sp.fraction(sp.together(found))
    along = sp.collect(sp.expand(top), [a2, b2]) / bottom
    return Law(t, along), Law(x_c, x1 + t * a1), Law(y_c, y1 + t * b1)


@cache
def at_pin() -> tuple[Law, Law]:
    """The centre is the pin itself."""
    x1, y1, x_c, y_c = _symbols("x_1 y_1 x_C y_C")
    return Law(x_c, x1), Law(y_c, y1)


@cache
def by_movement() -> tuple[Law, Law]:
    """The centre of a body whose point 0 moves by (v_x, v_y) while it turns by w: the point that does not move."""
    x0, y0, v_x, v_y, turn, x_c, y_c = _symbols("x_0 y_0 v_x v_y omega x_C y_C")
    still = sp.solve([v_x - turn * (y_c - y0), v_y + turn * (x_c - x0)], [x_c, y_c], dict=True)[0]
    return Law(x_c, sp.expand(still[x_c])), Law(y_c, sp.expand(still[y_c]))


@cache
def level_distance(end: EndName) -> Law:
    """How far to the right of the centre an end of the blade stands."""
    x, distance = _symbols(f"x_{end} d_{end}")
    return Law(distance, _turned(x, sp.S.Zero)[1])


@cache
def coupling(lead: EndName) -> Law:
    """The other end's movement over the lead's: the angle cancels and leaves the ratio of the level distances."""
    ours, other, angle, ratio = _symbols(f"d_{lead} d_{OTHER[lead]} {_ANGLE.name} kappa")
    return Law(ratio, (other * angle) / (ours * angle))


@cache
def coupling_of_movements(lead: EndName) -> Law:
    """The same from the movements themselves, where there is no centre."""
    ours, other, ratio = _symbols(f"s_{lead} s_{OTHER[lead]} kappa")
    return Law(ratio, other / ours)


@cache
def correction(end: EndName) -> tuple[Law, Law]:
    """What two cylinders must do so that one end rises by one and the other stays: two equations, solved."""
    s_end, s_rest, u_end, u_rest, m_1, m_2 = _symbols(f"s_{end} s_{OTHER[end]} u_{end} u_{OTHER[end]} m_1 m_2")
    found = sp.solve([s_end * m_1 + u_end * m_2 - 1, s_rest * m_1 + u_rest * m_2], [m_1, m_2], dict=True)[0]
    return Law(m_1, found[m_1]), Law(m_2, found[m_2])


@cache
def relative_gain(end: EndName, own: str, other: str) -> Law:
    """How far a place rises by one cylinder alone over how far it does while the other keeps the other place still.

    ``own`` and ``other`` name the gains of the two cylinders there. Source: Bristol, "On a new measure of interaction
    for multivariable process control", IEEE Trans. AC-11, 1966.
    """
    s_end, s_rest, u_end, u_rest, gain = _symbols(
        f"{own}_{end} {own}_{OTHER[end]} {other}_{end} {other}_{OTHER[end]} Lambda"
    )
    return Law(gain, s_end * u_rest / (s_end * u_rest - s_rest * u_end))


@cache
def better_pairing(own: bool) -> Law:
    """The interaction: this pairing's relative gain, or the other's, which is one less it."""
    gain, found = _symbols("Lambda I")
    return Law(found, gain if own else 1 - gain)


@cache
def residual(end: EndName, own: str, other: str, straight: bool) -> Law:
    """What a round of correcting one place after the other leaves of an error: g12 g21 / (g11 g22) = 1 - 1/lambda.

    ``straight``: the first cylinder corrects ``end``; else the other one does.
    """
    s_end, s_rest, u_end, u_rest, found = _symbols(
        f"{own}_{end} {own}_{OTHER[end]} {other}_{end} {other}_{OTHER[end]} r"
    )
    left = s_rest * u_end / (s_end * u_rest)
    return Law(found, left if straight else 1 / left)


@cache
def rounds() -> Law:
    """Rounds until a hundredth is left."""
    left, found = _symbols("r N")
    return Law(found, sp.ceiling(sp.log(sp.Rational(1, 100)) / sp.log(sp.Abs(left))))


@cache
def reverses() -> Law:
    """The multiple of the load at which a push turns by more than 90 degrees: where gW . (gW + t gF) = 0."""
    own, against, found = _symbols("W F_W t")
    return Law(found, -own / against)


@cache
def under_load() -> Law:
    """The farthest an end goes from where it stands under the weight alone."""
    low, high, found = _symbols("e_down e_up e_load")
    return Law(found, sp.Max(sp.Abs(low), sp.Abs(high)))


@cache
def stall() -> tuple[Law, Law]:
    """What the cylinder carries at relief, and the multiple of the load that brings it there."""
    relief, size, most, weight, force, found = _symbols("p_R A_R F_R W F t_R")
    return Law(most, relief * size), Law(found, (most - weight) / force)


@cache
def length() -> Law:
    """A cylinder's length from where its ends stand."""
    x_a, y_a, x_b, y_b, size = _symbols("x_A y_A x_B y_B l")
    return Law(size, sp.sqrt((x_b - x_a) ** 2 + (y_b - y_a) ** 2))


@cache
def arm() -> Law:
    """How much longer a cylinder gets per radian the blade turns about C: its line's arm about C."""
    x_a, y_a, x_b, y_b, size, r = _symbols("x_A y_A x_B y_B l r")
    along = sp.Matrix([x_b - x_a, y_b - y_a])
    return Law(r, along.dot(_turned(x_b, y_b)) / size)


@cache
def movement(end: EndName) -> Law:
    """How far an end rises per mm the cylinder lengthens: per radian it rises by d, per radian the cylinder needs r."""
    distance, r, moved = _symbols(f"d_{end} r s_{end}")
    return Law(moved, distance / r)


@cache
def shift() -> tuple[Law, Law]:
    """How far a blade held by parallel lines along (a_1, b_1) shifts level and plumb per mm the cylinder lengthens."""
    a, b, x_a, y_a, x_b, y_b, size, v_x, v_y, k = _symbols("a_1 b_1 x_A y_A x_B y_B l v_x v_y k")
    square = sp.Matrix([-b, a]) * k
    lengthened = sp.Matrix([x_b - x_a, y_b - y_a]).dot(square) / size
    moved = square.subs(k, sp.solve(lengthened - 1, k)[0])
    bottom = a * (y_b - y_a) - b * (x_b - x_a)
    return tuple(  # type: ignore[return-value]
        Law(each, sp.expand(sp.cancel(value * bottom)) / bottom) for each, value in zip((v_x, v_y), moved, strict=True)
    )


@cache
def same_as_shift(end: EndName) -> Law:
    """Every point of a blade that only shifts rises alike."""
    v_y, moved = _symbols(f"v_y s_{end}")
    return Law(moved, v_y)


@cache
def from_table(end: EndName) -> Law:
    """The cylinder's own number of the solved table."""
    solved, moved = _symbols(f"lambda_{end} s_{end}")
    return Law(moved, solved)


@cache
def arm_by_movement() -> Law:
    """The arm a cylinder would need to turn the blade as it does: one over the turn per mm."""
    x_l, x_r, s_l, s_r, r = _symbols("x_left x_right s_left s_right r")
    return Law(r, (x_r - x_l) / (s_r - s_l))


@cache
def load_moment() -> tuple[Law, Law, Law]:
    """The level and plumb distance of the load from the centre, and its moment: its work per radian."""
    x_p, y_p, x_c, y_c, f_x, f_y, level, plumb, moment = _symbols("x_P y_P x_C y_C F_x F_y d_P h_P M")
    work = sp.Matrix([f_x, f_y]).dot(_turned(x_p, y_p)).subs({x_p: x_c + level, y_p: y_c + plumb})
    return Law(level, x_p - x_c), Law(plumb, y_p - y_c), Law(moment, sp.expand(work))


@cache
def force_by_moment() -> Law:
    """Moments about the centre balance: the cylinder at its arm holds the load's moment."""
    moment, r, force = _symbols("M r F")
    return Law(force, sp.solve(moment + force * r, force)[0])


@cache
def force_by_work() -> Law:
    """The cylinder does the work the load does while the blade moves (v_x, v_y) per mm."""
    f_x, f_y, v_x, v_y, force = _symbols("F_x F_y v_x v_y F")
    return Law(force, sp.solve(force + f_x * v_x + f_y * v_y, force)[0])


@cache
def load_ratio() -> Law:
    """The size of the cylinder's force over that of the load."""
    force, f_x, f_y, ratio = _symbols("F F_x F_y n")
    return Law(ratio, sp.Abs(force) / sp.sqrt(f_x**2 + f_y**2))


@cache
def area(side: str) -> Law:
    """The area whose oil carries the force: the cap, or the annulus round the rod."""
    bore, rod, size = _symbols("D d A")
    return Law(size, sp.pi * (bore**2 - rod**2) / 4 if side == "annulus" else sp.pi * bore**2 / 4)


@cache
def pressure() -> Law:
    """Size of the force over the area."""
    force, size, found = _symbols("F A p")
    return Law(found, sp.Abs(force) / size)


@cache
def trapped(state: str, side: str) -> tuple[Law, Law]:
    """Area of the side that a force presses, and the oil trapped there. ``state``: W under weight, T under all."""
    bore, rod, hose, size, column, volume = _symbols(f"D d V_hose A_{state} l_{state} V_{state}")
    area = sp.pi * (bore**2 - rod**2) / 4 if side == "annulus" else sp.pi * bore**2 / 4
    return Law(size, area), Law(volume, size * column + hose)


@cache
def gives(state: str, pushed: bool, air: bool) -> Law:
    """How far the cylinder gives way under a force: the piston follows the oil's loss of volume.

    Of the volume V, p V / K from the bulk modulus and, with free air in it, x p / (p_0 + p) more (Boyle's law).
    """
    force, size, volume, change = _symbols(f"F_{state} A_{state} V_{state} Delta_{state}")
    modulus, share, atmosphere = _symbols("K x p_0")
    p = sp.Abs(force) / size
    loss = p / modulus + share * p / (atmosphere + p) if air else p / modulus
    return Law(change, (-1 if pushed else 1) * volume / size * loss)


@cache
def gives_under_load() -> Law:
    """From the weight alone to weight and load."""
    after, before, change = _symbols("Delta_T Delta_W Delta_l")
    return Law(change, after - before)


@cache
def gives_preloaded() -> Law:
    """Both sides pressed: their springs K A^2 / V add."""
    force, modulus, cap, annulus, one, two, change = _symbols("F K A_cap A_rod V_cap V_rod Delta_l")
    return Law(change, -force / (modulus * (cap**2 / one + annulus**2 / two)))


@cache
def aired() -> Law:
    """The modulus of oil with free air in it at a pressure: 1/K' = 1/K + x p_0 / p^2 (Boyle's law)."""
    plain, share, atmosphere, p, found = _symbols("K_oil x p_0 p_T K")
    return Law(found, 1 / (1 / plain + share * atmosphere / p**2))


@cache
def oil_at_end(end: EndName) -> Law:
    """What that does to the end."""
    moved, change, error = _symbols(f"s_{end} Delta_l e")
    return Law(error, moved * change)


@cache
def of_source(kind: str) -> Law:
    """The formula that a kind of source gives for one of its sources."""
    return Law(*KINDS[kind].law())


@cache
def total(kind: str, way: int) -> Law:
    """The sum over a list: of all (``way`` 0), or of what goes up (1) or down (-1) only."""
    number, count = sp.symbols("i n", integer=True)
    each = sp.IndexedBase("e")[number]
    term = sp.Max(0, way * each) if way else each
    return Law(sp.Symbol(f"e_{kind}"), sp.Sum(term, (number, 1, count)))


@cache
def farthest() -> Law:
    """What the mount itself was found to go, with what does not move its joints."""
    own, rest, found = _symbols("Delta_y e_rest e_true")
    return Law(found, own + rest)


@cache
def worst(kinds: tuple[str, ...]) -> Law:
    """All sources at their worst the same way."""
    return Law(sp.Symbol("e_worst"), sum([sp.Symbol(f"e_{kind}") for kind in kinds], sp.S.Zero))


@cache
def room() -> Law:
    """What is left of the tolerance."""
    tolerance, error, left = sp.symbols("T e_worst R")
    return Law(left, tolerance - error)


def write_all() -> None:
    """Write and print every formula now, so that the first working does not wait for it."""
    for law in every_law():
        _ = law.formula


def every_law() -> list[Law]:
    """All formulas there are; sums of kinds, which are quickly written, for all kinds at once."""
    symbols = tuple(kind.SYMBOL for kind in KINDS.values())
    listed = [*meeting(), *at_pin(), *by_movement(), *shift(), *load_moment()]
    listed += [length(), arm(), arm_by_movement(), force_by_moment(), force_by_work(), load_ratio(), pressure(), room()]
    listed += [law for side in ("cap", "annulus") for state in ("T", "W") for law in trapped(state, side)]
    listed += [gives(state, pushed, air) for state in ("T", "W") for pushed in (True, False) for air in (True, False)]
    listed += [gives_under_load(), gives_preloaded(), aired(), *stall(), under_load(), reverses(), farthest()]
    listed += [rounds(), area("cap"), area("annulus"), worst(symbols), *(of_source(kind) for kind in KINDS)]
    for end in ENDS:
        listed += [level_distance(end), coupling(end), coupling_of_movements(end), movement(end)]
        listed += [same_as_shift(end), from_table(end), oil_at_end(end)]
        for own, other in (("s", "u"), ("a", "b")):
            listed += [relative_gain(end, own, other), *(residual(end, own, other, each) for each in (True, False))]
    return listed + [total(symbol, way) for symbol in symbols for way in (0, 1, -1)]
