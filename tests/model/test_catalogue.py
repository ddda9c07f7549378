"""The shipped catalogue: complete, plausible, and consistent with what publications print."""

import itertools
import math
import re
from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from typing import Any, get_args

import pytest
import yaml

from proposal.model.equipment.devices import Accessory, Switch
from proposal.model.equipment.entry import Device
from proposal.model.equipment.library import FIELD_OF_KIND, Library, layered
from proposal.model.equipment.materials import Cable, DataCable, LoudspeakerCable
from proposal.resources import resource
from tests.catalogue import FORMS, PATTERNS

FILES = sorted(
    path for folder in ("equipment", "materials") for path in (resource("shared") / folder).glob("*.yaml")
)
# IEEE 802.3: greatest power at the device in watts, by class, and Type at which the class begins.
DEVICE_POWER_W = {1: 3.84, 2: 6.49, 3: 12.95, 4: 25.5, 5: 40, 6: 51, 7: 62, 8: 71.3}
SOURCE_POWER_W = {1: 4, 2: 7, 3: 15.4, 4: 30, 5: 45, 6: 60, 7: 75, 8: 90}
TYPES_OF_CLASS = {1: {1, 3}, 2: {1, 3}, 3: {1, 3}, 4: {2, 3}, 5: {3}, 6: {3}, 7: {4}, 8: {4}}


@cache
def trees() -> tuple[dict[str, Any], ...]:
    return tuple(yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader) for path in FILES)


@cache
def catalogue() -> Library:
    return Library.model_validate(layered(("shared", tree) for tree in trees()))


def devices() -> list[Device]:
    return [entry for entry in catalogue().entries() if isinstance(entry, Device)]


def cables() -> list[Cable]:
    return [entry for entry in catalogue().entries() if isinstance(entry, Cable)]


def data_cables() -> list[DataCable]:
    return list(catalogue().cables.values())


def bare_diameter_mm(gauge: int) -> float:
    """Return the diameter of a bare conductor (ASTM B258)."""
    return 0.127 * math.pow(92, (36 - gauge) / 39)


def cheapest(sizes: dict[int, Decimal], need: int) -> tuple[Decimal, int, int, tuple[int, ...]]:
    """Return cost, boxes, spare and sizes of the best cover of a need, found by trying every one."""
    most = {size: math.ceil(need / size) for size in sizes}
    covers = []
    for counts in itertools.product(*(range(most[size] + 1) for size in sizes)):
        chosen = dict(zip(sizes, counts, strict=True))
        room = sum(size * count for size, count in chosen.items())
        if room >= need:
            cost = sum((sizes[size] * count for size, count in chosen.items()), start=Decimal(0))
            boxes = tuple(size for size, count in chosen.items() for _ in range(count))
            covers.append((cost, len(boxes), room - need, boxes))
    return min(covers)


def test_every_file_says_where_its_figures_come_from() -> None:
    for path, tree in zip(FILES, trees(), strict=True):
        assert tree["source"] in ("editable default (invented)", "common practice"), path.name
        assert path.read_text(encoding="utf-8").startswith("# "), path.name


def test_the_catalogue_validates_and_has_every_kind() -> None:
    assert {entry.kind for entry in catalogue().entries()} == set(FIELD_OF_KIND)


def test_no_two_files_hold_the_same_entry() -> None:
    codes = [
        code for tree in trees() for field in tree if field in FIELD_OF_KIND.values() for code in tree[field]
    ]
    assert len(codes) == len(set(codes))


def test_makers_are_plainly_invented_and_every_entry_knows_its_layer_and_source() -> None:
    for entry in catalogue().entries():
        assert entry.maker.endswith("(invented)"), entry.model
        assert entry.layer == "shared"
        assert entry.source == "editable default (invented)"
        assert entry.description


def test_the_sizes_that_systems_are_built_from_are_all_there() -> None:
    library = catalogue()
    for system in library.systems:
        forms = {one.form for one in library.microphones.values() if one.works_with == system}
        assert forms == set(FORMS), system
        assert any(one.works_with == system for one in library.access_points.values()), system
        charged = {
            form
            for one in library.chargers.values()
            if one.works_with == system
            for group in one.slot_groups
            for form in group.forms
        }
        assert charged == set(FORMS), system
    assert {(one.form, one.pattern) for one in library.microphones.values()} == set(
        itertools.product(FORMS, PATTERNS)
    )
    assert {one.switch is not None for one in library.breakouts.values()} == {True, False}
    assert {one.role for one in library.accessories.values()} == set(
        get_args(Accessory.model_fields["role"].annotation)
    )
    budgets = {(entry.access_ports, entry.budget) for entry in library.switches.values()}
    assert {(8, 65), (8, 125), (16, 250), (24, 370), (48, 740)} <= budgets
    categories = {(entry.category, entry.screened, entry.jacket.plenum) for entry in data_cables()}
    assert categories == set(itertools.product(("5e", "6", "6A"), (False, True), (False, True)))
    assert {entry.trade_size for entry in library.conduits.values()} == {
        "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4",
    }  # fmt: skip
    assert {entry.gauge for entry in library.patch_cords.values()} == {24, 26, 28, None}


def test_prices_are_above_costs_and_in_one_currency() -> None:
    for entry in catalogue().entries():
        assert 0 < entry.cost.amount < entry.list_price.amount, entry.model
        assert entry.cost.currency == entry.list_price.currency == "EUR"


def test_bare_numbers_are_counts_or_ratios() -> None:
    """A number with a decimal point and no unit stands only where the quantity has no unit of its own."""
    ratios = {"distance_factor", "peukert", "pieces_a_cable", "pieces_an_opening"}
    for key, text in _leaves(trees()):
        if re.fullmatch(r"-?[0-9]*\.[0-9]+", text):
            assert key in ratios, f"{key}: {text}"


def _leaves(tree: Any, key: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(tree, dict):
        for name, value in tree.items():
            yield from _leaves(value, name)
    elif isinstance(tree, list | tuple):
        for value in tree:
            yield from _leaves(value, key)
    else:
        yield key, tree


@pytest.mark.published
def test_poe_devices_stay_within_the_class_they_ask_for() -> None:
    """IEEE 802.3, power at the device by class."""
    seen = set()
    for entry in devices():
        if entry.poe:
            poe = entry.poe
            lowest = DEVICE_POWER_W.get(poe.device_class - 1, 0)
            assert lowest < poe.maximum <= DEVICE_POWER_W[poe.device_class], entry.model
            assert poe.typical < poe.maximum
            assert poe.type in TYPES_OF_CLASS[poe.device_class], entry.model
            seen.add(poe.device_class)
            assert any(ports.powered for ports in entry.ports.values()), entry.model
            if poe.when_short == "derated":
                assert poe.lowest_class is not None
                assert poe.lowest_class < poe.device_class
                assert poe.derated
    assert seen == {2, 3, 4}


@pytest.mark.published
def test_switches_feed_at_least_one_port_of_their_class_and_never_more_than_all() -> None:
    """IEEE 802.3, power at the source by class."""
    sources: list[Switch] = list(catalogue().switches.values())
    for switch in sources:
        one = SOURCE_POWER_W[switch.poe_class]
        assert one <= switch.budget <= one * switch.poe_ports, switch.model
        assert switch.poe_type in TYPES_OF_CLASS[switch.poe_class]
        assert switch.mains is not None
        assert switch.mains.maximum >= switch.budget / switch.poe_efficiency
        assert switch.ports["P"].count == switch.access_ports >= switch.poe_ports
        assert switch.ports["U"].count == switch.uplinks
    for breakout in catalogue().breakouts.values():
        if breakout.switch and breakout.switch.poe_ports:
            one = SOURCE_POWER_W[breakout.switch.poe_class]
            assert one <= breakout.switch.budget <= one * breakout.switch.poe_ports


def test_a_breakouts_own_switch_has_the_ports_that_are_told() -> None:
    for breakout in catalogue().breakouts.values():
        assert breakout.ports["A"].count == breakout.channels
        assert breakout.ports["R"].count == breakout.return_inputs
        if breakout.switch:
            assert breakout.ports["N"].count == breakout.switch.ports
            assert breakout.switch.poe_ports + breakout.switch.isolating_ports <= breakout.switch.ports
            assert breakout.powered_by == "mains"


def test_systems_have_no_ladder_in_common_and_none_that_doubles() -> None:
    """Capacities were drawn by chance: no size twice or half another one of its system, not all even."""
    library = catalogue()
    systems = library.systems
    assert len(systems) >= 3
    ladders = {
        system: sorted(one.channels for one in library.access_points.values() if one.works_with == system)
        for system in systems
    }
    for one, other in itertools.combinations(systems, 2):
        assert not set(ladders[one]) & set(ladders[other])
    makers = {one.maker for one in library.breakouts.values()}
    outputs = [
        sorted({one.channels for one in library.breakouts.values() if one.maker == maker}) for maker in makers
    ]
    slots = [
        sorted(one.slots for one in library.chargers.values() if one.works_with == system)
        for system in systems
    ]
    inputs = sorted(one.inputs for one in library.mixers.values())
    for ladder in (*ladders.values(), *outputs, *slots, inputs):
        assert not any(2 * low == high for low, high in itertools.pairwise(ladder)), ladder
    for ladder in (*ladders.values(), inputs):
        assert any(size % 2 for size in ladder), ladder
    assert len({tuple(one.slot_groups) for one in library.chargers.values()}) == len(library.chargers)


def test_what_is_optional_is_left_out_by_some_system() -> None:
    library = catalogue()
    for told in (
        {one.pairs for one in library.chargers.values()},
        {bool(one.ports_carrying("network")) for one in library.chargers.values()},
        {one.powered_by for one in library.chargers.values()},
        {bool(one.switch) for one in library.breakouts.values()},
        {bool(one.switch.isolating_ports) for one in library.breakouts.values() if one.switch},
        {bool(one.battery.pack_cost) for one in library.microphones.values()},
        {one.hears_return for one in library.microphones.values()},
    ):
        assert len(told) == 2, told
    for charger in library.chargers.values():
        # Who pairs microphones has to be reached.
        assert bool(charger.ports_carrying("network")) or not charger.pairs


def test_codes_of_microphone_makers_tell_neither_kind_nor_capacity() -> None:
    """Five digits and the maker's letter, if any: every maker's codes look alike whatever they name."""
    library = catalogue()
    kinds = ("microphone", "accessory", "access_point", "charger", "breakout", "mixer", "amplifier")
    shapes: dict[str, set[str]] = {}
    for kind in kinds:
        for code, entry in library.of_kind(kind).items():
            assert len(re.findall("[0-9]", code)) == 5
            shapes.setdefault(entry.maker, set()).add(re.sub("[0-9]", "9", code))
    assert all(len(found) == 1 for found in shapes.values()), shapes


def test_every_device_has_a_port_for_the_network_it_needs() -> None:
    for entry in devices():
        if entry.network and entry.kind != "microphone":
            assert entry.ports_carrying("network"), entry.model


def test_power_figures_of_mains_devices_agree_with_each_other() -> None:
    for entry in devices():
        if entry.mains:
            assert entry.mains.standby <= entry.mains.typical <= entry.mains.maximum, entry.model
            assert entry.mains.maximum_apparent >= entry.mains.maximum


def test_amplifiers_draw_more_than_they_deliver() -> None:
    for amplifier in catalogue().amplifiers.values():
        assert amplifier.mains
        assert amplifier.total_power == amplifier.channels * amplifier.channel_power
        assert amplifier.idle < amplifier.eighth_power < amplifier.mains.maximum
        assert amplifier.eighth_power > amplifier.total_power / 8
        assert amplifier.mains.maximum > amplifier.total_power


@pytest.mark.published
def test_radio_powers_keep_the_limits_of_their_regions() -> None:
    """ETSI EN 300 175-2: 24 dBm. 47 CFR 15.319(c), (e): 20.7 dBm, less the antenna gain above 3 dBi."""
    limits = {"europe": (24.0, 10), "north_america": (20.7, 5)}
    radios = [entry.radio for entry in catalogue().access_points.values()]
    radios += [entry.radio for entry in catalogue().microphones.values()]
    for radio in radios:
        assert set(radio.regions) == set(limits)
        for name, region in radio.regions.items():
            limit, carriers = limits[name]
            assert max(region.powers) <= limit - max(0, radio.antenna_gain - 3)
            assert list(region.powers) == sorted(region.powers, reverse=True)
            assert region.carriers == carriers


def test_access_points_have_transceivers_for_their_links_and_their_bearer() -> None:
    for entry in catalogue().access_points.values():
        pairs = entry.channels * entry.radio.slot_pairs + entry.radio.always_on_bearers
        assert pairs <= 12 * entry.radio.transceivers, entry.model


def test_a_new_pack_lasts_its_run_time_and_a_slot_can_charge_it() -> None:
    for entry in catalogue().microphones.values():
        battery = entry.battery
        assert battery.energy == pytest.approx(battery.in_use * battery.run_time / 3600, rel=1e-9), (
            entry.model
        )
        assert battery.in_use > battery.idle > battery.docked > battery.off
        slots = [
            one.slot_power
            for one in catalogue().chargers.values()
            if one.works_with == entry.works_with and one.slots_for([entry.form])
        ]
        assert battery.charge_power <= max(slots), entry.model
    runs = {(one.works_with, one.form): one.battery.run_time for one in catalogue().microphones.values()}
    for system in catalogue().systems:
        assert len({runs[system, form] for form in FORMS}) > 1
    for charger in catalogue().chargers.values():
        assert charger.shared_power <= charger.slots * charger.slot_power
        source = charger.poe or charger.mains
        assert source
        assert source.maximum > charger.shared_power


def test_distance_factors_are_those_of_the_patterns() -> None:
    """Common practice: omnidirectional 1, cardioid 1.7, supercardioid 1.9."""
    for entry in catalogue().microphones.values():
        wanted = {"omnidirectional": 1.0, "cardioid": 1.7, "supercardioid": 1.9}[entry.pattern]
        assert entry.distance_factor == wanted


def test_a_box_costs_less_than_smaller_ones_of_the_same_size_together() -> None:
    """Every cover of the capacity of each box is tried: none of its own ladder is never worth its price."""
    library = catalogue()
    ladders = [
        {one.channels: one.cost.amount for one in library.access_points.values() if one.works_with == system}
        for system in library.systems
    ]
    for costs in (*ladders, {one.inputs: one.cost.amount for one in library.mixers.values()}):
        for need in costs:
            assert cheapest(costs, need)[3] == (need,)


@pytest.mark.published
def test_data_cables_are_as_thick_and_heavy_as_their_copper_asks() -> None:
    """Conductor diameter after ASTM B258; copper has 8.96 g/cm³, the densest jacket (FEP) 2.15 (memory)."""
    for cable in data_cables():
        copper_mm2 = 8 * math.pi / 4 * bare_diameter_mm(cable.gauge) ** 2
        outside_mm2 = math.pi / 4 * (cable.outside_diameter * 1000) ** 2
        assert 0.03 < copper_mm2 / outside_mm2 < 0.10, cable.model
        copper_n_m = copper_mm2 * 1e-6 * 8960 * 9.80665
        solid_n_m = copper_n_m + (outside_mm2 - copper_mm2) * 1e-6 * 2150 * 9.80665
        assert copper_n_m < cable.weight_per_length < solid_n_m, cable.model
        assert cable.conductor == "copper"


@pytest.mark.published
def test_data_cables_take_the_pull_and_the_bend_their_standard_gives() -> None:
    """ANSI/TIA-568.0-D: 110 N, four times the outside diameter."""
    for cable in data_cables():
        assert cable.highest_pull == 110
        assert cable.bend_diameters == 4
        assert cable.temperature_rating >= 60


@pytest.mark.published
def test_loudspeaker_cables_hold_their_conductors_and_may_be_pulled_less_than_copper_yields() -> None:
    """Conductor diameter after ASTM B258; annealed copper yields near 70 N/mm² (memory)."""
    wires: list[LoudspeakerCable] = list(catalogue().loudspeaker_cables.values())
    for cable in wires:
        copper_mm2 = cable.conductors * math.pi / 4 * bare_diameter_mm(cable.gauge) ** 2
        assert cable.outside_diameter * 1000 > 2 * bare_diameter_mm(cable.gauge) * 1.3
        assert cable.weight_per_length > copper_mm2 * 1e-6 * 8960 * 9.80665
        assert cable.highest_pull < 70 * copper_mm2


def test_a_jacket_says_plenum_riser_and_low_smoke_as_its_ratings_do() -> None:
    for cable in cables():
        ratings = set(cable.jacket.ratings)
        assert cable.jacket.plenum == bool(ratings & {"CMP", "CL2P", "CL3P", "OFNP"}), cable.model
        assert cable.jacket.low_smoke == bool(ratings & {"B2ca", "Cca"}), cable.model
        if cable.jacket.plenum or ratings & {"CMR", "CL3R", "OFNR"}:
            assert cable.jacket.riser, cable.model


def test_a_longer_reel_costs_more_and_less_a_metre_and_a_cut_metre_costs_most() -> None:
    for cable in cables():
        assert cable.unit == "metre"
        reels = sorted(cable.reels.values(), key=lambda reel: reel.length)
        for short, long in itertools.pairwise(reels):
            assert short.cost.amount < long.cost.amount, cable.model
            assert float(long.cost.amount) / long.length < float(short.cost.amount) / short.length, (
                cable.model
            )
        assert all(float(reel.cost.amount) / reel.length < cable.cost.amount for reel in reels), cable.model
        for reel in reels:
            assert reel.weight * 9.80665 > cable.weight_per_length * reel.length, cable.model
            assert reel.cost.amount < reel.list_price.amount


@pytest.mark.published
def test_boxes_of_data_cable_hold_a_thousand_feet_or_five_hundred() -> None:
    """1 ft is 0.3048 m (international yard and pound agreement of 1959)."""
    for cable in data_cables():
        lengths = {reel.length for reel in cable.reels.values()}
        assert 304.8 in lengths, cable.model


def test_standby_supplies_run_shorter_than_the_energy_in_their_battery_would() -> None:
    for supply in catalogue().standby_supplies.values():
        battery = supply.battery
        energy_wh = battery.blocks * battery.block_voltage * battery.capacity
        loads = [point.load for point in supply.run_times]
        times = [point.time for point in supply.run_times]
        assert loads == sorted(loads)
        assert times == sorted(times, reverse=True)
        assert loads[-1] == supply.rated_power
        for point in supply.run_times:
            linear_s = energy_wh * supply.inverter_efficiency / point.load * 3600
            assert 0.2 * linear_s < point.time < linear_s, (supply.model, point.load)
        assert supply.rated_power < supply.rated_apparent_power


def test_loudspeakers_are_as_directive_as_their_coverage_and_as_loud_as_their_power() -> None:
    """A cone of angle θ has Q = 2 / (1 − cos(θ/2)); a real pattern lies within 1.5 dB of it.

    One that is narrower upright than across, α by β, has at most Q = π / asin(sin(α/2) sin(β/2)) (memory);
    lower bands are less narrow, and it then lies between the two.
    """
    for entry in catalogue().loudspeakers.values():
        for band, angle in entry.band_coverage:
            across = math.radians(angle / 2)
            least_db = most_db = 10 * math.log10(2 / (1 - math.cos(across)))
            if entry.upright_coverage is not None:
                upright = math.radians(entry.upright_coverage / 2)
                most_db = 10 * math.log10(math.pi / math.asin(math.sin(across) * math.sin(upright)))
            told = getattr(entry.directivity, band)
            assert least_db - 1.5 <= told <= most_db + 1.5, (entry.model, band)
        loudest = entry.sensitivity + 10 * math.log10(entry.rated_power)
        assert entry.highest_level == pytest.approx(loudest, abs=1.5)
        assert max(entry.taps_100_v) <= entry.rated_power
        # A tap takes twice the power on a line of 100 V; one that would be too much is not used there.
        doubled = [2 * tap for tap in entry.taps_70_v]
        assert [tap for tap in doubled if tap <= entry.rated_power] == list(entry.taps_100_v)


@pytest.mark.published
def test_rack_devices_fit_their_rack_units_and_a_rack() -> None:
    """EIA-310: 44.45 mm a unit, 482.6 mm over the ears."""
    deepest = max(rack.usable_depth for rack in catalogue().racks.values())
    for entry in devices():
        if entry.rack_units:
            assert entry.height <= entry.rack_units * 0.04445, entry.model
            assert entry.width <= (0.2413 if entry.half_width else 0.4831), entry.model
            assert entry.depth < deepest
            assert "rack" in entry.mounting
        assert entry.coldest < entry.hottest
    for rack in catalogue().racks.values():
        assert rack.units * 0.04445 < rack.height
        assert rack.usable_depth < rack.depth


def test_audio_from_microphone_to_mixer_leaves_room_within_twenty_milliseconds() -> None:
    """Default limit in the room 20 ms, before the network's own delay."""
    library = catalogue()
    longest = max(entry.latency for entry in library.microphones.values())
    longest += max(entry.radio.latency + entry.latency for entry in library.access_points.values())
    longest += max(entry.latency for entry in library.mixers.values())
    assert 0.010 < longest < 0.018


def test_chosen_materials_fit_the_cables_they_serve() -> None:
    library = catalogue()
    for cable in data_cables():
        fitting = [
            jack
            for jack in library.connectors.values()
            if jack.form == "8P8C jack"
            and jack.category == cable.category
            and jack.screened == cable.screened
            and (jack.widest_cable or 0) >= cable.outside_diameter
            and (jack.thickest_gauge or 0) <= cable.gauge <= (jack.thinnest_gauge or 0)
        ]
        assert fitting, cable.model
        labels = [
            label
            for label in library.labels.values()
            if (label.narrowest_cable or 1) <= cable.outside_diameter <= (label.widest_cable or 0)
        ]
        assert labels, cable.model


def test_a_breakouts_own_switch_costs_less_than_the_ports_that_it_saves() -> None:
    """Otherwise a small room, an access point, a charger and a breakout, would never be served by it."""
    library = catalogue()
    port = min(entry.cost.amount / entry.access_ports for entry in library.switches.values() if entry.managed)
    hosts = [entry for entry in library.breakouts.values() if entry.switch]
    without = [entry for entry in library.breakouts.values() if not entry.switch]
    for need in range(1, min(host.channels for host in hosts) + 1):
        least = min(entry.cost.amount for entry in hosts if entry.channels >= need)
        assert least < min(entry.cost.amount for entry in without if entry.channels >= need) + 3 * port
