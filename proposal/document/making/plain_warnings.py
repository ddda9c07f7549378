"""The warnings of the design review in plain words, those of one kind together."""

from collections.abc import Mapping, Sequence

from proposal.document.rows.plain_warnings import PlainWarningRow
from proposal.quantities.formatting import listed
from proposal.review.finding import Finding

_MOST_PLACES = 6
PLAIN: Mapping[str, str] = {
    "access-point-obstructed": (
        "Something stands between an access point and the room. It is to be moved, or the access point is."
    ),
    "access-points-close": "Two access points hang so near each other that they may disturb each other.",
    "battery-needs-swaps": (
        "A microphone does not last through the meeting day on one charge: it is exchanged for a charged "
        "one during the day."
    ),
    "assistive-listening-missing": "Assistive listening is required, and none is designed.",
    "battery-below-reserve": "Microphones run empty before the meeting day is over.",
    "bend-too-tight": "A cable route turns more tightly than its cable allows.",
    "bundle-too-warm": (
        "Many powered cables lie together and get warm. They are spread out, or take cooler routes."
    ),
    "button-held-unasked": "Talkers have to hold a button while they speak, which nobody asked for.",
    "cable-too-warm": "A cable lies where it gets warmer than it is made for.",
    "cables-outdoors": "A cable runs outdoors and has to be made for that.",
    "cables-at-untouchable-ceiling": (
        "Cables run where nothing may be fixed to the ceiling: we have to agree their route with you."
    ),
    "channels-short": "There are fewer radio channels than microphones.",
    "channel-too-long": "A cable is longer than the standard allows.",
    "circuit-overloaded": "A mains circuit has to carry more than it should.",
    "delay-long": "Loudspeakers or recordings follow the talker later than they should.",
    "done-too-late": "Work ends later than a day that others have set.",
    "far-outside-pathways": "A cable runs far outside conduits and trays: we have to agree its route.",
    "few-spare-ports": "A network switch has few ports left for later.",
    "inrush-high": (
        "When everything on one mains circuit is switched on at the same moment, its breaker may trip. "
        "The equipment is then to be switched on in groups."
    ),
    "jacket-for-unknown-ceiling": (
        "It is not known what the space above a ceiling is. The cable there depends on it."
    ),
    "jacket-not-for-risers": "A cable runs between storeys and is not made for that.",
    "jacket-wrong-for-space": "A cable runs through a space where the building code asks for another jacket.",
    "joined-delay-long": "Where rooms are joined, a talker is heard in the other one later than is good.",
    "leakage-high": "The devices on one mains circuit together may let its residual-current device trip.",
    "lines-beside-data": "Loudspeaker cables lie beside data cables; they have to be kept apart.",
    "lines-near-data": (
        "Loudspeaker cables share a route with other cables. They have to be kept apart there."
    ),
    "link-near-limit": (
        "A cable is nearly as long as the standard allows. We measure its route on site before we order "
        "cable."
    ),
    "link-too-long": "A cable is longer than the standard allows.",
    "mounting-not-possible": "A device cannot be fixed where it is to be.",
    "mains-too-near": "Mains cables lie near the system's cables. They have to be kept apart.",
    "mains-unsuited": "A device does not suit the mains voltage of the building.",
    "metal-ceiling": "A ceiling is of metal, which radio does not pass.",
    "network-full": "The range of network addresses has no room left.",
    "night-too-short": "The night is too short to charge every microphone fully.",
    "no-charge-slot": "A microphone has no place in a charger.",
    "no-fire-stopping": "Nobody is named who closes openings in fire-rated walls and floors.",
    "no-safety-wire": "A loudspeaker on a ceiling has no point for a second, independent wire that holds it.",
    "no-second-path": "One cable alone joins two network switches: if it fails, the rooms behind it stop.",
    "no-spare-capacity": "A room has no place left for one more microphone.",
    "no-latency-limit": "How late sound may come from loudspeakers is to be agreed on.",
    "no-spares": "A room has no spare microphone.",
    "not-plenum-rated": "A loudspeaker reaches into moving air above the ceiling, and is not made for that.",
    "not-at-a-wall": "A device that is to hang on a wall is not at one.",
    "owner-equipment-unjoined": "Equipment of yours is not joined to the system.",
    "owner-not-on-network": "Equipment of yours needs a network that does not reach it.",
    "owner-ports-short": "Equipment of yours has too few ports for what is asked of it.",
    "owner-switch-apart": "A network switch of yours is not joined to the others.",
    "owner-usb-too-far": "Equipment of yours is farther away than a USB cable reaches.",
    "poe-budget-short": "A network switch cannot power everything that is plugged into it.",
    "pull-too-hard": "A cable has to be pulled harder through its conduit than it may be.",
    "pull-too-long": "A conduit is so long that it needs a pull box.",
    "rack-without-spare": "A rack has no space left for later.",
    "portable-set-not-planned": "A portable set has no room on the air in one of its places.",
    "radio-changes-with-state": (
        "When a wall is opened or a cart is moved, microphones change their radio channels: they need a "
        "moment before a meeting begins."
    ),
    "radio-impossible": "Not all microphones can be on the air at once.",
    "radio-margin-low": "A microphone is received weakly at its place.",
    "radio-no-reserve": "The radio band has no reserve: one more microphone would have no channel.",
    "radio-not-settled": "Whether all microphones can be on the air at once is not settled yet.",
    "radio-plan-fragile": (
        "Whether there is room on the air for all microphones rests on how much walls and floors stop radio; "
        "a measurement on site settles that."
    ),
    "radio-reuse-not-proven": (
        "Rooms share radio channels; we measure on site whether the walls between them are enough."
    ),
    "requirement-answer-unknown": "The answer to one of your requests is not in the design.",
    "off-hours-unpriced": "Work outside normal hours is to be agreed on.",
    "order-after-price-rise": "The order is planned for a day after which the price rises.",
    "requirement-not-met": "Something that you asked for is not met.",
    "return-unheard": "Sound from the far end is heard by nobody in a room.",
    "slots-short": "There are fewer places in chargers than microphones.",
    "sound-leaves-room": "The sound of a room that has to stay there can be heard elsewhere.",
    "surface-not-to-be-touched": "Something is fixed to a surface that may not be touched.",
    "supply-loss-short": "When one supply of a network switch fails, something that it powers goes off.",
    "too-cold-for-device": "A device may get colder than it is made for.",
    "too-warm-for-device": "A device may get warmer than it is made for.",
    "tray-overloaded": "A cable tray or the hooks of a run hold more cable than they should.",
    "uplink-overfull": "The link between two network switches carries more than it should.",
    "work-hours-too-short": "People may work on site for fewer hours a day than the programme counts on.",
    "wrong-region": "A device may not be used in your region.",
}
"""What a rule of the review means to a client, by its name."""
_OTHERWISE = "A point of the design is still to be settled with you. We will tell you more."


def plain_words(rule: str) -> str:
    """Return what a rule of the review means to a client, as a sentence.

    rule: its name.
    """
    return PLAIN.get(rule, _OTHERWISE)


def plain_warnings(findings: Sequence[Finding]) -> tuple[PlainWarningRow, ...]:
    """Return open errors and warnings in plain words, errors first, those of one meaning as one row.

    findings: of the design review, in order.
    """
    places: dict[str, list[str]] = {}
    for one in findings:
        if one.severity != "note" and one.accepted is None:
            places.setdefault(plain_words(one.rule), []).append(one.where)
    return tuple(PlainWarningRow(what=what, where=_places(tags)) for what, tags in places.items())


def _places(tags: Sequence[str]) -> str:
    names = list(dict.fromkeys(tags))
    more = len(names) - _MOST_PLACES
    return f"{', '.join(names[:_MOST_PLACES])} and {more} more" if more > 0 else listed(names)
