"""`proposal check`: findings, their counts, and the exit status."""

import shutil
from pathlib import Path

from tests.calls import Call, files_under

PROJECTS = Path(__file__).resolve().parent.parent / "projects"
GOOD, DESIGN_ERRORS = 0, 1


def test_check_of_a_good_project_counts_its_findings(run: Call, minimal: Path) -> None:
    status, out, err = run("check", minimal)
    assert (status, err) == (GOOD, "")
    *findings, last = out.splitlines()
    counts = dict(zip(("error", "warning", "note"), (0, 0, 0), strict=True))
    for line in findings:
        counts[line.split(": ")[1]] += 1
    words = [f"{count} {kind}{'' if count == 1 else 's'}" for kind, count in counts.items()]
    assert last == f"{', '.join(words)}, 0 accepted"
    assert counts["error"] == 0


def test_check_writes_nothing(run: Call, minimal: Path) -> None:
    before = files_under(minimal)
    run("check", minimal)
    assert files_under(minimal) == before
    assert files_under(Path.cwd()) == []


def test_check_of_a_failing_project_ends_with_one(run: Call) -> None:
    status, out, err = run("check", PROJECTS / "failing")
    assert (status, err) == (DESIGN_ERRORS, "")
    assert ": error: link-too-long: " in out


def test_accepted_errors_do_not_count_as_errors(run: Call, tmp_path: Path) -> None:
    project = shutil.copytree(PROJECTS / "failing", tmp_path / "failing")
    _, out, _ = run("check", project)
    errors = {tuple(line.split(": ")[2:4]) for line in out.splitlines() if ": error: " in line}
    assert errors
    accepted = "".join(
        f'  N{n}: {{rule: {rule}, where: "{where}", reason: Agreed on site., '
        "accepted_by: A. Reviewer, date: 2031-02-03}\n"
        for n, (rule, where) in enumerate(sorted(errors))
    )
    brief = project / "project.yaml"
    assert "accepted_findings" not in brief.read_text("utf-8")
    brief.write_text(f"{brief.read_text('utf-8')}\naccepted_findings:\n{accepted}", "utf-8")
    status, out, _ = run("check", project)
    assert status == GOOD, out
    assert out.splitlines()[-1].startswith("0 errors, ")


def test_what_a_client_could_work_out_is_checked_where_the_price_is_asked_for(
    call: Call, project: Path
) -> None:
    status, out, err = call("check", project)
    asked, counts = out.splitlines()
    assert (status, counts, err) == (GOOD, "0 errors, 0 warnings, 1 note, 0 accepted", "")
    assert asked.startswith("project.yaml:1:7: note: not-stated: project.programme.holidays: ")
    status, out, _ = call("check", project, "--price")
    warned, *again, counts = out.splitlines()
    assert again == [asked]
    assert status == GOOD
    assert warned.startswith("project.yaml: warning: client-can-compute: price: ")
    assert counts == "0 errors, 1 warning, 1 note, 0 accepted"


def test_alternates_that_are_not_offered_are_told(call: Call, project: Path) -> None:
    dearer = project / "alternates" / "dearer.yaml"
    dearer.parent.mkdir()
    allowance = "changes: {project: {price: {allowances: {signs: {name: Signs, price: 9.00 EUR}}}}}"
    dearer.write_text(f"name: Signs\ndescription: Signs.\ndeductive: true\n{allowance}\n", "utf-8")
    _, out, _ = call("check", project)
    assert "alternates: note: “Signs” is not computed here. `proposal check --price` computes it, and" in out
    _, out, _ = call("check", project, "--price")
    assert "alternates/dearer.yaml: note: “Signs” is not offered to the client. It is meant to lower" in out
    assert "not computed here" not in out
