"""Rows of switches and their ports, with the power they give."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import NOT_CLIENT, Row, Schedule, Shows, composed


class PortRow(Row):
    """One port of a switch."""

    schedule: ClassVar = Schedule(
        "port",
        subject="ports",
        key=("switch", "port"),
        called=("{switch}/{port}",),
        views={
            "check": "port device verdict poe_class allocated_w drawn_w loss_w device_w allowed_w "
            "loop_ohm device_v least_v",
            "terminate": "port device device_port cable vlan poe_class poe_source pairs",
            "test": "port device verdict vlan poe_class drawn_w device_v least_v priority place_in_drop",
        },
    )

    switch: Annotated[str, Shows("switch", NOT_CLIENT, "tag")] = Field(
        default="", description="Tag of the switch."
    )
    port: Annotated[str, Shows("port", NOT_CLIENT)] = Field(
        default="",
        description="What the port is called on the switch: its number, its name on a breakout, U1 for an "
        "uplink.",
    )
    device: Annotated[str, Shows("device", NOT_CLIENT, "tag", link="tag", empty="spare")] = Field(
        default="", description="Tag of the device or switch at its other end; empty where it is spare."
    )
    device_port: Annotated[str, Shows("to_port", NOT_CLIENT)] = Field(
        default="", description="Port of the device; of a link that leads on, port of the switch there."
    )
    cable: Annotated[str, Shows("cable", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Identity of the cable."
    )
    vlan: Annotated[int | None, Shows("vlan", NOT_CLIENT, "number")] = Field(
        default=None, description="VLAN."
    )
    poe_class: Annotated[int | None, Shows("poe_class", NOT_CLIENT, "number")] = Field(
        default=None, description="Class asked for."
    )
    poe_source: Annotated[str, Shows("poe_source", NOT_CLIENT, "tag", link="tag", subject="power")] = Field(
        default="", description="Tag of the PoE source that feeds it in place of the port; empty without one."
    )
    allocated_w: Annotated[
        float, Shows("set_aside", NOT_CLIENT, "watts", sums=True, zero=False, subject="power")
    ] = Field(default=0.0, description="Power allocated by class, W.")
    drawn_w: Annotated[float, Shows("drawn", NOT_CLIENT, "watts", sums=True, zero=False, subject="power")] = (
        Field(default=0.0, description="Power drawn at the port, W; 0 where a PoE source feeds the device.")
    )
    pairs: Annotated[
        int | None, Shows("pairs_with_power", NOT_CLIENT, "number", subject="power", follows=True)
    ] = Field(default=None, description="Pairs that carry the power, 2 or 4.")
    allowed_w: Annotated[
        float | None, Shows("allowed_at_the_device", NOT_CLIENT, "watts", subject="power", follows=True)
    ] = Field(default=None, description="What the class lets the device take, W.")
    device_w: Annotated[
        float | None, Shows("highest_at_the_device", NOT_CLIENT, "watts", subject="power")
    ] = Field(default=None, description="Highest power of the device, W.")
    loss_w: Annotated[
        float | None,
        Shows("lost_in_the_cable", NOT_CLIENT, "watts", sums=True, subject="power", follows=True),
    ] = Field(default=None, description="What cable, cords and connectors turn into heat, W.")
    loop_ohm: Annotated[float | None, Shows("loop", NOT_CLIENT, "ohms", subject="power")] = Field(
        default=None, description="Loop resistance of the channel, Ω."
    )
    device_v: Annotated[float | None, Shows("at_the_device", NOT_CLIENT, "volts", subject="power")] = Field(
        default=None, description="Voltage at the device, V."
    )
    least_v: Annotated[float | None, Shows("least_needed", NOT_CLIENT, "volts", subject="power")] = Field(
        default=None, description="Least voltage the device needs, V."
    )
    priority: Annotated[int, Shows("power_priority", NOT_CLIENT, "number", zero=False, subject="power")] = (
        Field(default=0, description="Order in which power is kept, 1 first.")
    )
    place_in_drop: Annotated[
        int | None, Shows("loses_power_as", NOT_CLIENT, "number", subject="power", follows=True)
    ] = Field(default=None, description="Place in the order in which ports lose power, 1 first.")
    verdict: Annotated[
        str, Shows("verdict", NOT_CLIENT, "verdict", subject="power", empty="no_power_wanted")
    ] = Field(default="", description="holds or fails; empty where not powered.")


class SwitchRow(Row):
    """One switch and its sums."""

    schedule: ClassVar = Schedule("switch", subject="power", key=("tag",))

    tag: Annotated[str, Shows("switch", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag."
    )
    model: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    ports: Annotated[int, Shows("ports", NOT_CLIENT, "count", sums=True, subject="ports")] = Field(
        default=0, description="Ports."
    )
    used: Annotated[int, Shows("used", NOT_CLIENT, "count", sums=True, subject="ports", follows=True)] = (
        Field(default=0, description="Ports used.")
    )
    spare: Annotated[
        int,
        Shows(
            "spare", NOT_CLIENT, "count", sums=True, formula="{ports}-{used}", subject="ports", follows=True
        ),
    ] = Field(default=0, description="Ports free.")
    spare_wanted: Annotated[int, Shows("spare_wanted", NOT_CLIENT, "count", subject="ports")] = Field(
        default=0, description="Ports to be left free."
    )
    budget_w: Annotated[float, Shows("budget", NOT_CLIENT, "watts")] = Field(
        default=0.0, description="Power budget, W."
    )
    usable_w: Annotated[float, Shows("less_headroom", NOT_CLIENT, "watts")] = Field(
        default=0.0, description="Budget less headroom, W."
    )
    allocated_w: Annotated[
        float, Shows("set_aside_by_class", NOT_CLIENT, "watts", sums=True, follows=True)
    ] = Field(default=0.0, description="Sum allocated by class, W.")
    drawn_w: Annotated[float, Shows("drawn", NOT_CLIENT, "watts", sums=True, follows=True)] = Field(
        default=0.0, description="Sum drawn at the source, W."
    )
    drops_first: Annotated[tuple[str, ...], Shows("drops_first", NOT_CLIENT, "tag")] = Field(
        default=(), description="Devices that lose power first, were the budget short."
    )
    worst_port: Annotated[str, Shows("worst_port", NOT_CLIENT, follows=True)] = Field(
        default="", description="Its powered port whose device has the least voltage to spare."
    )
    worst_spare_v: Annotated[float | None, Shows("voltage_to_spare", NOT_CLIENT, "volts", follows=True)] = (
        Field(default=None, description="Voltage above the least that the device at the worst port needs, V.")
    )
    supplies: Annotated[int | None, Shows("mains_supplies", NOT_CLIENT, "count")] = Field(
        default=None, description="Its mains supplies, where it powers something and its library entry says."
    )
    left_w: Annotated[float | None, Shows("left_with_one_supply_lost", NOT_CLIENT, "watts")] = Field(
        default=None, description="Power for all ports with one supply lost, W; none where nobody says."
    )
    drops_then: Annotated[
        tuple[str, ...],
        Shows("drops_with_one_supply_lost", NOT_CLIENT, "tag", link="tag", empty="nothing", follows=True),
    ] = Field(default=(), description="Devices that lose power with one supply lost, the first first.")
    verdict: Annotated[str, Shows("verdict_on_power", NOT_CLIENT, "verdict")] = Field(
        default="", description="holds or fails, by the power that it gives."
    )

    @composed(Shows("switch", NOT_CLIENT, "tag", link="ports", together=True))
    def port_by_port(self) -> str:
        """Its tag, which leads to its ports."""
        return self.tag
