"""Heat in British units, and the air that carries it away."""

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

NIST_SP_811 = Source("NIST SP 811", clause="appendix B.8", memory=True)
DRY_AIR = Source(title="dry air at 20 °C", kind="common practice")


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
    equation="V = 3600·P/(ρ·c·T)",
    source=DRY_AIR,
    result=("V", "m³/h"),
    where={
        "power_w": ("P", "heat", "W"),
        "rise_k": ("T", "warming of the air", "K"),
        "density_kg_m3": ("ρ", "density of the air", "kg/m³"),
        "heat_j_kg_k": ("c", "heat that warms the air", "J/(kg·K)"),
    },
    valid={
        "power_w": Range(0, 1e9),
        "rise_k": Range(0.1, 100),
        "density_kg_m3": Range(0.5, 2),
        "heat_j_kg_k": Range(1000, 1050),
    },
)
def airflow_m3_h(
    power_w: float, rise_k: float, density_kg_m3: float = 1.2, heat_j_kg_k: float = 1005.0
) -> float:
    """Return the air that carries heat away [m³/h].

    power_w: heat [W]
    rise_k: how much warmer the air leaves than it enters [K]
    density_kg_m3: of the air [kg/m³]
    heat_j_kg_k: what warms a kilogram of the air by a kelvin [J/(kg·K)]

    Source: common practice: dry air at 20 °C.
    """
    return 3600 * power_w / (density_kg_m3 * heat_j_kg_k * rise_k)
