"""What rules, region and equipment ask of radio."""

import pytest

from proposal.design.radio.radio_settings import spacing_m
from tests.design.making import changed, minimal


@pytest.mark.parametrize(("by_rule", "by_equipment", "wanted"), [(3.0, 5.0, 5.0), (3.0, 2.0, 3.0)])
def test_access_points_keep_the_greater_distance_of_rule_and_equipment(
    by_rule: float, by_equipment: float, wanted: float
) -> None:
    project = changed(minimal(), "brief.rules.radio.access_point_spacing", by_rule)
    entry = next(iter(project.library.access_points.values()))
    near, far = (entry.model_copy(update={"least_spacing": one}) for one in (0.5, by_equipment))
    assert spacing_m(project, near, far) == wanted
