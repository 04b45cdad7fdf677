"""Make-up water beside worked examples and definitions, each with where it comes from."""

from __future__ import annotations

import pytest

from schedules.room.water.ions import PARTS, degrees_of, molar_mass, part_named
from schedules.water.makeup.build_up import Poured, built_up, days_left, steady_part
from schedules.water.makeup.loss import loss_by_level, loss_by_tds
from schedules.water.makeup.minerals import PURE, Minerals, TankWater, mixed
from schedules.water.makeup.salting import Dissolving, dissolved, recipe
from schedules.water.makeup.split import portions, split


@pytest.mark.parametrize(
    ("part", "grams"),
    [
        ("CaCl2", 110.978),
        ("CaCl2.2H2O", 147.008),
        ("MgSO4", 120.361),
        ("MgSO4.7H2O", 246.466),
        ("CaSO4.2H2O", 172.164),
        ("MgCl2.6H2O", 203.295),
        ("CaCO3", 100.086),
        ("KHCO3", 100.114),
        ("NaHCO3", 84.006),
        ("K2CO3", 138.205),
    ],
)
def test_a_salt_weighs_what_the_atomic_weights_say(part: str, grams: float) -> None:
    """Molar masses from periodictable 2.1 (IUPAC/CIAAW atomic weights)."""
    assert molar_mass(part) == pytest.approx(grams, abs=0.02)


@pytest.mark.parametrize(
    ("part", "milligrams", "raised"),
    [
        ("CaCl2.2H2O", 26.215, (1, 0)),
        ("CaCl2", 19.790, (1, 0)),
        ("MgSO4.7H2O", 43.951, (1, 0)),
        ("CaSO4.2H2O", 30.701, (1, 0)),
        ("MgCl2.6H2O", 36.253, (1, 0)),
        ("KHCO3", 35.706, (0, 1)),
        ("NaHCO3", 29.961, (0, 1)),
        ("K2CO3", 24.646, (0, 1)),
    ],
)
def test_a_degree_takes_the_mass_that_its_definition_gives(
    part: str, milligrams: float, raised: tuple[int, int]
) -> None:
    """1 °dH = 10 mg/L CaO (definition; internetchemie.info, "Deutscher Härtegrad": 17.8 mg/L CaCO3, 0.1783 mmol/L)."""
    assert degrees_of([(part, milligrams / 1000)]) == pytest.approx(raised, abs=1e-3)


@pytest.mark.parametrize(("part", "milligrams", "raised"), [("Ca", 7.147, 1), ("Mg", 4.334, 1), ("HCO3", 21.762, 1)])
def test_a_degree_holds_so_much_of_an_ion(part: str, milligrams: float, raised: float) -> None:
    """°dH = 0.13992 Ca + 0.23072 Mg, 1 °dKH = 21.762 mg/L HCO3, both from the definition of a degree."""
    assert sum(degrees_of([(part, milligrams / 1000)])) == pytest.approx(raised, abs=1e-3)


@pytest.mark.parametrize("written", ["CaSO4.2H2O", "CaSO4·2H2O", "CaSO4*2H2O", "CaSO4 · 2H2O"])
def test_a_formula_may_be_written_as_packs_write_it(written: str) -> None:
    assert part_named(written) == "CaSO4.2H2O"


@pytest.mark.parametrize("written", ["CuSO4", "CuSO4.5H2O", "", "caso4", "2H2O"])
def test_what_is_no_known_part_has_no_name(written: str) -> None:
    assert part_named(written) is None


def test_no_part_holds_a_metal_that_harms() -> None:
    assert not any(metal in part for part in PARTS for metal in ("Cu", "Zn", "Pb", "Cd", "Ni"))


# Mixing and evaporation by C = (C1 V1 + C2 V2) / (V1 + V2) and C' = C V / (V - E), as worked by hand.


def test_ten_litres_at_300_and_thirty_at_180_are_forty_at_210() -> None:
    assert mixed([(10, Minerals(300.0)), (30, Minerals(180.0))]).tds == pytest.approx(210)


def test_two_changes_of_a_quarter_take_half_of_the_distance_and_half_of_the_rest() -> None:
    tank = TankWater(40, Minerals(300.0))
    once = tank.changed(10, Minerals(150.0))
    assert once.minerals.tds == pytest.approx(262.5)
    assert once.changed(10, Minerals(150.0)).minerals.tds == pytest.approx(234.375)


def test_forty_litres_at_200_that_lose_two_hold_210_and_a_half() -> None:
    left = TankWater(40, Minerals(200.0)).evaporated(2)
    assert left.minerals.tds == pytest.approx(210.526, abs=1e-3)
    assert left.poured(2, Minerals(200.0)).minerals.tds == pytest.approx(210)
    assert left.poured(2, PURE).minerals.tds == pytest.approx(200)


def test_four_weeks_of_topping_off_with_tank_water_raise_200_to_240() -> None:
    poured = [Poured(2, Minerals(200.0))] * 4
    assert built_up(40, poured).tds == pytest.approx(40)
    tank = TankWater(40, Minerals(200.0))
    for each in poured:
        tank = tank.evaporated(each.litres).poured(each.litres, each.water)
    assert tank.minerals.tds == pytest.approx(240)


def test_a_fall_of_a_centimetre_in_sixty_by_thirty_is_1800_ml() -> None:
    """60 cm × 30 cm × 1 cm = 1800 cm³."""
    loss = loss_by_level(60 * 30, 10)
    assert loss.litres == pytest.approx(1.8)
    assert loss.error == pytest.approx(0.18)


def test_dissolved_solids_give_back_the_litres_that_evaporated() -> None:
    """The loss that made 200 mg/L in 40 L to 210.526 mg/L above: 2 L, by V (1 - TDS0 / TDS)."""
    assert loss_by_tds(40, 200, 210.526).litres == pytest.approx(2, abs=1e-3)


def test_two_readings_of_a_percent_each_leave_a_loss_unsure_by_their_root_of_squares() -> None:
    """GUM, 5.1.2: for a quotient the relative uncertainties add as squares: 40 L × 0.95 × √2 % = 0.537 L."""
    assert loss_by_tds(40, 200, 210.526).error == pytest.approx(0.537, abs=1e-3)


def test_solids_that_fell_are_no_loss_and_solids_of_nothing_say_nothing() -> None:
    assert loss_by_tds(40, 200, 190).litres == 0
    with pytest.raises(ValueError, match="above 0"):
        loss_by_tds(40, 0, 190)


# Alligation, as pharmacists do it by hand: parts of each are the distances of the other to the target.


def test_a_third_of_water_at_300_makes_pure_water_into_100() -> None:
    empty = TankWater(1e-9, Minerals(0.0))
    found = split(empty, 30, "tds", 100, Minerals(300.0))
    assert found.mineralised == pytest.approx(10)
    assert found.pure == pytest.approx(20)
    assert found.reach == "reached"


def test_what_pure_water_alone_leaves_too_high_is_said() -> None:
    found = split(TankWater(38, Minerals(260.0)), 2, "tds", 200, Minerals(200.0))
    assert (found.mineralised, found.reach) == (0, "too_high")
    assert found.after.tds == pytest.approx(247)


def test_what_mineralised_water_alone_leaves_too_low_is_said() -> None:
    found = split(TankWater(38, Minerals(150.0)), 2, "tds", 200, Minerals(200.0))
    assert (found.pure, found.reach) == (0, "too_low")


def test_a_split_needs_two_waters_that_differ() -> None:
    with pytest.raises(ValueError, match="no gh"):
        split(TankWater(38, Minerals(260.0)), 2, "gh", 6, Minerals(200.0, 6.0))
    with pytest.raises(ValueError, match="no tds"):
        split(TankWater(38, Minerals(260.0)), 2, "tds", 200, PURE)


@pytest.mark.parametrize("unknown", ["tank", "mineralised", "pure"])
def test_a_split_needs_the_quantity_of_all_three_waters(unknown: str) -> None:
    waters = {"tank": Minerals(260.0), "mineralised": Minerals(300.0), "pure": Minerals(0.0), unknown: Minerals()}
    with pytest.raises(ValueError, match="no tds"):
        split(TankWater(38, waters["tank"]), 2, "tds", 200, waters["mineralised"], waters["pure"])


def test_portions_need_both_waters_and_a_swing() -> None:
    known = TankWater(36, Minerals(250.0))
    for tank, water, swing in ((known, Minerals(), 10), (TankWater(36, Minerals()), PURE, 10), (known, PURE, 0)):
        with pytest.raises(ValueError, match="no tds"):
            portions(tank, 4, "tds", water, swing)
    assert portions(known, 0, "tds", PURE, 10) == ()


# Forty litres, as worked with the masses above: 1.0486 g CaCl2·2H2O for one degree, 4.7188 g and 2.6371 g of
# CaCl2·2H2O and MgSO4·7H2O for six degrees at 3:1, 5.7130 g KHCO3 for four degrees of KH.


def salt(part: str) -> Dissolving:
    gh, kh = degrees_of([(part, 1.0)])
    return Dissolving(part, Minerals(None, gh, kh))


def test_six_degrees_and_four_of_alkalinity_take_the_grams_worked_out_by_hand() -> None:
    found = recipe(PURE, [salt("CaCl2.2H2O"), salt("KHCO3")], Minerals(None, 6.0, 4.0))
    assert found is not None
    grams = {each: litre * 40 for each, litre in found.grams}
    assert grams == {"CaCl2.2H2O": pytest.approx(6 * 1.0486, abs=2e-3), "KHCO3": pytest.approx(5.7130, abs=2e-3)}
    assert found.miss == pytest.approx(0, abs=1e-9)


def test_a_mixed_salt_brings_the_sum_of_its_parts() -> None:
    gh, _ = degrees_of([("CaCl2.2H2O", 4.7188 / 40), ("MgSO4.7H2O", 2.6371 / 40)])
    assert gh == pytest.approx(6, abs=2e-3)


def test_by_the_keepers_own_measure_twenty_grams_a_hundred_litres_make_six_degrees() -> None:
    """20 g in 100 L raise 6 °dGH; half as much for three in the same, by the rule of three: 10 g."""
    own = Dissolving("own", Minerals(950.0, 30.0, 0.0))
    found = recipe(PURE, [own], Minerals(None, 3.0, 0.0))
    assert found is not None
    assert dict(found.grams) == {"own": pytest.approx(0.1)}
    assert found.minerals == pytest.approx((95, 3, 0))


def test_solids_are_aimed_at_only_where_no_hardness_is_wanted() -> None:
    own = Dissolving("own", Minerals(950.0, 30.0, 0.0))
    by_tds, by_gh = recipe(PURE, [own], Minerals(190.0)), recipe(PURE, [own], Minerals(500.0, 6.0))
    assert by_tds is not None and by_gh is not None
    assert by_tds.grams[0][1] == pytest.approx(0.2) == by_gh.grams[0][1]


def test_no_salt_is_taken_where_the_base_holds_too_much_or_the_salt_brings_nothing() -> None:
    tap = Minerals(400.0, 16.0, 8.0)
    assert recipe(tap, [salt("CaCl2.2H2O")], Minerals(None, 6.0)) is None
    assert recipe(PURE, [salt("NaCl")], Minerals(None, 6.0)) is None
    assert recipe(PURE, [Dissolving("own", Minerals(950.0))], Minerals(None, 6.0)) is None
    assert recipe(Minerals(), [salt("CaCl2.2H2O")], Minerals(None, 6.0)) is None


def test_a_base_that_is_right_already_needs_no_salt() -> None:
    found = recipe(Minerals(None, 6.0, 3.0), [salt("CaCl2.2H2O")], Minerals(None, 6.0, 3.0))
    assert found is not None
    assert (found.grams, found.miss) == ((), 0)


def test_a_salt_of_unknown_solids_leaves_the_solids_unknown() -> None:
    assert dissolved(PURE, [(salt("KHCO3"), 0.1)]).tds is None


def test_portions_of_a_water_keep_the_swing_and_add_up() -> None:
    tank = TankWater(36, Minerals(250.0))
    poured = portions(tank, 4, "tds", PURE, 10)
    assert sum(poured) == pytest.approx(4)
    assert len(poured) == 3  # 250 falls to 225 in all: 25 by at most 10 a day
    for each in poured:
        after = tank.poured(each, PURE)
        assert abs((after.minerals.tds or 0) - (tank.minerals.tds or 0)) <= 10 + 1e-9
        tank = after
    assert tank.minerals.tds == pytest.approx(225)


def test_days_until_a_rising_quantity_leaves_its_target() -> None:
    assert days_left(200, 250, 0.5) == 100
    assert days_left(260, 250, 0.5) == 0
    assert days_left(200, 250, 0) == float("inf")


def test_a_steady_change_holds_what_builds_up_where_it_settles() -> None:
    """A tank that rises 10 between changes with water at 150 and may reach 250: a tenth, as 150 + 10 / 0.1 = 250."""
    part = steady_part(10, 250, 150)
    assert part == pytest.approx(0.1)
    level = before = 200.0
    for _ in range(400):
        level += 10
        before = level
        level += 0.1 * (150 - level)
    assert before == pytest.approx(250)


def test_water_that_holds_as_much_itself_cannot_hold_a_tank_below() -> None:
    assert steady_part(10, 150, 150) is None
    assert steady_part(120, 250, 150) is None
    assert steady_part(0, 150, 180) == 0
