"""The tools of `make demo` and `make docs` fail when they should, and only then."""

from pathlib import Path
from subprocess import CompletedProcess

import pytest

from tools import demo, docs

JOB = "hangtrue: 1\nreadings:\n"


def test_a_job_is_told_from_a_boxed_set(tmp_path: Path) -> None:
    """Both are documents of the lodge; only jobs have readings."""
    job, boxed = tmp_path / "job.yaml", tmp_path / "set.yaml"
    job.write_text(JOB, "utf-8")
    boxed.write_text("hangtrue: 1\npanes:\n", "utf-8")
    assert demo.is_job(job)
    assert not demo.is_job(boxed)


@pytest.mark.parametrize(("code", "ends"), [(0, 0), (1, 0), (2, 2), (-9, 2)])
def test_a_job_that_must_not_be_hung_is_an_answer_and_bad_input_is_not(
    code: int, ends: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The command's 0 and 1 are answers; 2, or a command that was killed, is none."""
    (tmp_path / "job.yaml").write_text(JOB, "utf-8")
    monkeypatch.setattr(demo, "JOBS", tmp_path)
    said = "room\n\nverdict\n\nthe rest"
    monkeypatch.setattr(demo, "ended", lambda *_: CompletedProcess([], code, said, "Packet"))
    assert demo.main() == ends


def test_a_folder_without_jobs_is_not_a_demo(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing planned is not the same as all planned."""
    monkeypatch.setattr(demo, "JOBS", tmp_path)
    assert demo.main() != 0


def test_a_stale_page_fails_the_check_and_is_mended_by_writing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The check writes nothing; writing makes the check pass."""
    monkeypatch.setattr(docs, "ROOT", tmp_path)
    monkeypatch.setattr(docs, "PAGES", {"docs/page.md": "platform:python_version"})
    page = tmp_path / "docs" / "page.md"
    assert docs.main(["--check"]) == 1
    assert not page.exists()
    assert docs.main([]) == 0
    assert docs.main(["--check"]) == 0
    page.write_text("something else", "utf-8")
    assert docs.main(["--check"]) == 1
