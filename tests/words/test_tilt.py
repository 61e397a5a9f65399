from nesting.cutting.flat.placing import numbered
from nesting.cutting.search.laying import lay_cloth
from nesting.drawing.pages.work_order import reminders
from nesting.estimate.estimating import estimate_lay
from nesting.words.verdict import verdict
from tests.cutting.search.test_tilting import QUICK, boards


def test_the_verdict_says_what_the_tilt_saves_and_the_sheet_which_pieces():
    project, cloth = boards(2.0)
    estimate = estimate_lay(lay_cloth(project, cloth, effort=QUICK), project)
    assert "laid up to 2° off the grain, as you allow, the lay is" in verdict(estimate, project)
    assert any(said.startswith("Off the grain") for said in reminders(estimate, numbered(estimate.lay)))


def test_nothing_is_said_where_none_is_granted():
    project, cloth = boards(0.0)
    estimate = estimate_lay(lay_cloth(project, cloth, effort=QUICK), project)
    assert "grain" not in verdict(estimate, project)
