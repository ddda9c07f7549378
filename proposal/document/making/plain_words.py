"""What each rule of the design review means to a client, in plain words."""

from collections.abc import Mapping

PLAIN: Mapping[str, str] = {
    "access-point-obstructed": (
        "Something stands between an access point and the room. One of the two has to be moved."
    ),
    "access-points-close": "Two access points are so close that they may interfere with each other.",
    "accessory-does-not-fit": "A mount, cover or cord does not fit its microphone.",
    "assistive-listening-missing": "Assistive listening is required, and none is designed.",
    "battery-below-reserve": "Microphone batteries run out before the meeting day is over.",
    "battery-needs-swaps": (
        "A microphone does not last through the meeting day on one charge: it is exchanged for a "
        "charged one during the day."
    ),
    "bend-too-tight": "A cable route bends more tightly than its cable allows.",
    "bends-over-180": (
        "A conduit has so many bends that cable is hard to pull through; a pull box may be needed."
    ),
    "bends-over-360": "A conduit has more bends between pull boxes than allowed.",
    "bundle-ampacity": (
        "Many powered cables lie together: they have to be spread out, or take cooler routes."
    ),
    "bundle-too-warm": (
        "Many powered cables lie together and get warm. They are spread out, or take cooler routes."
    ),
    "button-held-unasked": "Talkers have to hold a button while they speak, which nobody asked for.",
    "cable-on-the-floor": (
        "Cables cross the floor of a room. We have to agree with you on a floor box, a duct or a cover, or "
        "on another place for the equipment."
    ),
    "cable-too-warm": "A cable gets warmer than it is rated for.",
    "cables-at-untouchable-ceiling": (
        "Cables run where nothing may be fixed to the ceiling: we have to agree their route with you."
    ),
    "cables-at-untouchable-walls": (
        "Cables come down or outlets stand where nothing may be fixed to the walls: we have to agree their "
        "places with you."
    ),
    "cables-outdoors": "A cable runs outdoors and needs an outdoor jacket.",
    "category-too-low": "A cable is of a lower category than the system needs.",
    "channel-source-not-possible": "A channel is to carry a source that no mixer can choose.",
    "channel-too-long": "A cable is longer than the standard allows.",
    "channels-short": "There are fewer radio channels than microphones.",
    "circuit-overloaded": "A mains circuit has to carry more than it should.",
    "conduit-jams": "Cables in a conduit may jam when they are pulled.",
    "cords-too-long": "The cords at both ends of a cable are longer together than the standard allows.",
    "day-off-work": "Work is planned for a day on which nobody works.",
    "decision-without-effect": "Something that was decided by hand changes nothing.",
    "delay-long": "Sound from loudspeakers or in recordings comes later after the talker than it should.",
    "delivered-too-late": "Something comes later than a date that has to be kept allows.",
    "destination-not-fed": "The sound of a room does not reach one of the places where it is to go.",
    "done-too-late": "Work ends later than a date set by others.",
    "far-outside-pathways": "A cable runs far outside conduits and trays: we have to agree its route.",
    "few-spare-ports": "A network switch has few spare ports.",
    "first-switch-not-joined": (
        "Our network is to be joined to yours, and nobody has named the port of yours that is for it."
    ),
    "inrush-high": (
        "When everything on one mains circuit starts at the same moment, as after a power cut, its breaker "
        "may trip. We agree with the electrician on a slower breaker, or on switching on in groups."
    ),
    "invented-models": "Some models are placeholders and are still to be replaced by the products offered.",
    "isolation-not-possible": (
        "The network of a room is to be kept apart, and its equipment cannot do that."
    ),
    "jacket-for-unknown-ceiling": (
        "The use of the space above a ceiling is not known. The type of cable there depends on it."
    ),
    "jacket-not-for-risers": "A cable runs between storeys and is not rated for that.",
    "jacket-not-halogen-free": "A cable is not free of halogens, and has to be.",
    "jacket-wrong-for-space": (
        "A cable runs through a space where the building code asks for another jacket."
    ),
    "joined-behind-a-wall": "Rooms that are joined still have a wall between them.",
    "joined-delay-long": "A talker in one room is heard too late in another that hears it.",
    "leakage-high": "The devices on one mains circuit together may let its residual-current device trip.",
    "length-below-way": (
        "A cable was measured shorter than the way drawn for it. We measure it once more before we "
        "order cable."
    ),
    "lines-beside-data": "Loudspeaker cables lie beside data cables; they have to be kept apart.",
    "lines-near-data": (
        "Loudspeaker cables share a route with other cables. They have to be kept apart there."
    ),
    "link-near-limit": (
        "A cable is nearly as long as the standard allows. We measure its route on site before we order "
        "cable."
    ),
    "link-too-long": "A cable is longer than the standard allows.",
    "loudspeaker-impedance-low": "Loudspeakers on one line load their amplifier more than it allows.",
    "loudspeaker-line-loss": "A loudspeaker cable is so long or thin that too much power is lost in it.",
    "loudspeaker-line-not-driven": "Loudspeakers have no amplifier that drives them.",
    "loudspeaker-line-overloaded": "Loudspeakers together take more power than their amplifier has.",
    "loudspeaker-too-quiet": "Loudspeakers are not loud enough somewhere in a room.",
    "mains-cord-too-short": "A mains cord that is long enough is not in our list yet.",
    "mains-too-near": "Mains cables lie near the system's cables. They have to be kept apart.",
    "mains-unsuited": "A device does not suit the mains voltage of the building.",
    "metal-ceiling": "A ceiling is of metal, which blocks radio.",
    "microphone-differs": "A microphone is not of the kind that its position requires.",
    "microphone-without-holder": "How a microphone is held where it is mounted is still to be chosen.",
    "mix-without-mixer": "The sound of a room is to be mixed where there is no mixer for it.",
    "mixed-systems": "Equipment of two systems stands in one room and does not work together.",
    "mounting-not-possible": "A device cannot be mounted where it is planned.",
    "network-full": "The range of network addresses is full.",
    "night-too-short": "The night is too short to charge every microphone fully.",
    "no-cable": "There is no cable that suits one of the runs.",
    "no-charge-slot": "A microphone has no place in a charger.",
    "no-clock-leader": "No device can keep time for the audio network.",
    "no-connector": "A connector that is needed is not in our list yet.",
    "no-cord": "A cord that is needed is not in our list yet.",
    "no-fire-stopping": "Nobody is named who closes openings in fire-rated walls and floors.",
    "no-label": "A label that is needed is not in our list yet.",
    "no-latency-limit": "The longest acceptable delay of loudspeaker sound is still to be agreed.",
    "no-link-between-switches": "There is no cable or module that joins two network switches.",
    "no-mains-cord": "A mains cord that is needed is not in our list yet.",
    "no-mount": "The mount for a device is not in our list yet.",
    "no-multicast-querier": "No network switch can control where streams of sound go.",
    "no-network": "The network for the system is still to be named.",
    "over-a-ceiling-bar": "A bar of the ceiling grid is in the way of a device that is planned there.",
    "no-return-source": "Sound from elsewhere is to be heard in a room, and nothing brings it there.",
    "no-safety-wire": (
        "A loudspeaker on a ceiling has no point for a second, independent wire that holds it."
    ),
    "no-second-path": "One cable alone joins two network switches: if it fails, the rooms behind it stop.",
    "no-spare-capacity": "A room has no place left for one more microphone.",
    "no-spares": "A room has no spare microphone.",
    "no-switch-port": "A network switch has too few ports.",
    "sample-text-left": "Some words of this proposal are samples that are still to be replaced.",
    "no-warranty": "The length of the warranty is still to be stated.",
    "nothing-to-hear": "People are to listen in a room into which no sound comes.",
    "bodypack-without-source": "A bodypack has nothing that picks up sound.",
    "mute-not-possible": "Nothing in the room can mute a group of microphones by itself.",
    "loudspeakers-said-twice": "A room names its loudspeakers twice: as ours and as somebody else's.",
    "chargers-in-the-way": "Chargers stand among seats or in a door.",
    "same-code-twice": "Two things of one room have the same code.",
    "outlet-not-to-be-there": "An outlet would be in something to which nothing may be fixed.",
    "not-at-a-wall": "A device that is to hang on a wall is not at one.",
    "not-copper": "A cable is not of solid copper throughout, and has to be.",
    "not-plenum-rated": (
        "A loudspeaker reaches into moving air above the ceiling, and is not rated for that."
    ),
    "not-solid": "A cable has stranded conductors where solid ones are needed.",
    "nothing-suits": "No equipment in our list does all that a room asks for.",
    "nothing-to-accept": "Something was accepted that is no longer the case.",
    "off-hours-unpriced": "Work outside normal hours is still to be agreed.",
    "one-factor": "Conditions of work are counted once more than they should be.",
    "order-after-price-rise": "The order is planned for a day after which the price rises.",
    "output-shared": "Two places share one output of a device.",
    "on-an-operable-wall": "Something hangs on a wall that opens, and would go away with it.",
    "outside-the-building": "A room reaches beyond the outer walls of the building as they were given.",
    "owner-equipment-unjoined": "Equipment of yours is not joined to the system.",
    "owner-not-on-network": "Equipment of yours needs a network that does not reach it.",
    "owner-ports-short": "Equipment of yours has too few ports for what is asked of it.",
    "owner-switch-apart": "A network switch of yours is not joined to the others.",
    "owner-usb-too-far": "Equipment of yours is farther away than a USB cable reaches.",
    "patch-cord-too-short": "The cords between devices in a rack have to be longer.",
    "pathway-way-unknown": (
        "It is still to be agreed by which way a new conduit goes, and which walls it passes."
    ),
    "phantom-power-short": "A wired microphone does not get the power that it needs.",
    "poe-budget-short": "A network switch cannot power everything that is plugged into it.",
    "poe-class-short": "A network switch gives a device less power than it may ask for.",
    "poe-not-carried": "Power for a device does not pass through its cable.",
    "poe-over-class": "A device asks for more power than its class allows.",
    "poe-pairs-short": "A device needs power on all pairs of its cable, and gets it on two.",
    "poe-voltage-low": "A device at the end of a long cable gets too low a voltage.",
    "port-missing": "A device lacks a port that is needed.",
    "port-overfull": "A network port carries more than it should.",
    "portable-set-never-used": "A portable set is used nowhere.",
    "portable-set-not-planned": (
        "Not all microphones can be on the air at once while a portable set is used in one of its places."
    ),
    "portable-set-without-outlet": "A portable set has no power outlet in one of its places.",
    "portable-set-without-switch": "A portable set has no network switch of its own.",
    "portable-sets-on-one-spot": "Two portable sets are to stand on one spot at the same time.",
    "position-unused": "A place for an access point is not used.",
    "priority-queues-few": "A network switch cannot keep sound apart from other traffic well enough.",
    "pull-too-hard": "A cable has to be pulled harder through its conduit than it may be.",
    "pull-too-long": "A conduit is so long that it needs a pull box.",
    "rack-overlap": "Two devices are to stand in the same place of a rack.",
    "rack-without-spare": "A rack has no spare space.",
    "radio-changes-with-state": (
        "When a wall is opened or a cart is moved, microphones change their radio channels: they need"
        " a moment before a meeting begins."
    ),
    "radio-impossible": (
        "Not all microphones can be on the air at once; the radio page tells how many too many there are and"
        " what would help."
    ),
    "radio-margin-low": "A microphone is received weakly at its place.",
    "radio-no-reserve": "The radio band has no reserve: one more microphone would have no channel.",
    "radio-not-settled": "Whether all microphones can be on the air at once is not settled yet.",
    "radio-plan-fragile": (
        "Whether all microphones can be on the air at once depends on how much walls and floors block"
        " radio; a measurement on site will settle that."
    ),
    "radio-power-above-limit": "A device transmits with more power than your region allows.",
    "radio-power-no-setting": "A device cannot be set to the radio power that is planned.",
    "radio-reuse-not-proven": (
        "Rooms share radio channels; we measure on site whether the walls between them are enough."
    ),
    "radio-share-exceeded": "The system would take more of the radio band than was agreed.",
    "recorder-without-operator": "A room is recorded, and it is not settled who starts and stops that.",
    "requirement-answer-unknown": "The answer to one of your requests is not in the design.",
    "requirement-declined": "We do not offer something that you asked for, and say why.",
    "requirement-not-met": "Something that you asked for is not met.",
    "requirement-unanswered": "Something that you asked for has no answer yet.",
    "return-unheard": "Sound from the far end cannot be heard in a room.",
    "room-not-heard": "A room is to hear another one and does not.",
    "room-port-lacking": "The network of a room has too few ports.",
    "room-switch-overloaded": "The network of a room carries more than it should.",
    "route-broken": "The route of a cable is interrupted: two parts of it do not meet.",
    "screen-missing": "A cable is not screened, and has to be.",
    "several-systems": (
        "Rooms have microphones of several makers, which cannot be exchanged from room to room."
    ),
    "slots-short": "There are fewer places in chargers than microphones.",
    "sound-leaves-room": "The sound of a room that has to stay there can be heard elsewhere.",
    "sound-not-joined": "Sound does not pass between rooms that are joined.",
    "standby-feeds-nothing": "A standby supply feeds nothing.",
    "standby-leaves-out-nothing": "What a standby supply may leave out is not fed by it anyway.",
    "standby-not-on-network": "Nobody is told when a standby supply takes over: it is not on the network.",
    "standby-too-slow": "A standby supply takes over too slowly for what it feeds.",
    "stream-not-taken": "A device receives fewer streams of sound than are sent to it.",
    "supply-loss-short": "When one supply of a network switch fails, something that it powers goes off.",
    "surface-not-to-be-touched": "Something is fixed to a surface that may not be touched.",
    "switch-not-joined": "A network switch is not joined to the others.",
    "switch-not-possible": "A microphone's button cannot work in the way that is asked for.",
    "switch-unsuited": "A network switch does not suit sound over the network.",
    "tag-used-again": "The name of a device was used for another one before.",
    "tap-missing": "A loudspeaker has no setting for the power that is planned.",
    "tap-over-rating": "A loudspeaker is set to more power than it is rated for.",
    "terms-said-otherwise": "Two places state one of the terms differently; ask us which one holds.",
    "too-cold-for-device": "A device may get colder than it is rated for.",
    "too-warm-for-device": "A device may get warmer than it is rated for.",
    "transceivers-short": "An access point has too few receivers for its microphones.",
    "tray-overloaded": "A cable tray or the hooks of a run hold more cable than they should.",
    "unplugged-port-unknown": "A lead that is to be pulled out before a closed session is not there.",
    "uplink-overfull": "The link between two network switches carries more than it should.",
    "warranty-beyond-makers": "We warrant some equipment for longer than its maker does.",
    "wiring-class-short": "A loudspeaker cable is of a lower wiring class than its line needs.",
    "work-during-meetings": "We would work in a room while you use it: we have to agree on the days.",
    "work-hours-on-a-day-off": "Site hours are set for a day of the week on which nobody would be there.",
    "wrong-region": "A device may not be used in your region.",
}
"""Sentences by the name of the rule."""

COUNTED: Mapping[str, tuple[str, str]] = {
    PLAIN["link-near-limit"]: (
        "One cable, that of {where}, is nearly as long as the standard allows. We measure its route on site "
        "before we order cable.",
        "{count} cables, those of {where}, are nearly as long as the standard allows. We measure their "
        "routes on site before we order cable.",
    ),
}
"""What is said of one and of several places, by the sentence of the rule, where their number matters.

{where}: the device at one end of each.
"""
