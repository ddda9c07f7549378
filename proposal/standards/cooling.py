"""Heat in British units, and the air that carries it away."""

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

NIST_SP_811 = Source("NIST SP 811", clause="appendix B.8", memory=True)
DRY_AIR = Source(title="dry air at 20 °C: 1.2 kg/m³, 1005 J/(kg·K)", kind="common practice")


@formula(
    title="Heat in British units",
    equation="Q = 3.412·P",
    source=NIST_SP_811,
    result=("Q", "BTU/h"),
    where={"power_w": ("P", "heat", "W")},
    valid={"power_w": Range(0, 1e9)},
)
def heat_btu_h(power_w: float) -> float:
    """Return a flow of heat in British thermal units an hour [BTU/h].

    power_w: heat [W]

    Source: NIST SP 811, appendix B.8 (memory).
    """
    return 3.412 * power_w


@formula(
    title="Airflow that removes the heat",
    equation="V = 3600·P/(1.2·1005·T)",
    source=DRY_AIR,
    result=("V", "m³/h"),
    where={"power_w": ("P", "heat", "W"), "rise_k": ("T", "warming of the air", "K")},
    valid={"power_w": Range(0, 1e9), "rise_k": Range(0.1, 100)},
)
def airflow_m3_h(power_w: float, rise_k: float) -> float:
    """Return the air that carries heat away [m³/h].

    power_w: heat [W]
    rise_k: how much warmer the air leaves than it enters [K]

    Source: common practice: dry air at 20 °C.
    """
    return 3600 * power_w / (1.2 * 1005 * rise_k)
