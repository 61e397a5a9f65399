"""Compiled code on disk: used if it is whole, else compiled anew; kept only where nobody else may write."""

import hashlib
import importlib.util
import os
import pickle
import stat

import pytest

from nesting.packing import jit, kept_code
from nesting.packing.kept_code import folder_for, nobody_else_writes

DOUBLING = """
from nesting.packing.jit import entry_kernel

@entry_kernel
def double(x):
    return 2.0 * x
"""


@pytest.fixture(autouse=True)
def nothing_known(monkeypatch, tmp_path):
    """Nothing said yet, no folder chosen yet, and a cache folder of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(kept_code, "_said", set())
    kept_code._folder_beside.cache_clear()
    yield
    kept_code._folder_beside.cache_clear()


@pytest.fixture
def start(tmp_path):
    """Loads a module of one kernel anew, as the next run does."""
    file = tmp_path / "doubling.py"
    file.write_text(DOUBLING, encoding="utf-8")

    def load():
        spec = importlib.util.spec_from_file_location("doubling", file)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        return module.double

    return load


def kept_file(kernel):
    (file,) = jit.kept_in(kernel).glob("doubling.double.*.code")
    return file


def with_its_checksum(data):
    return hashlib.sha256(data).digest() + data


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: b"",
        lambda data: data[:10],
        lambda data: data[: len(data) // 2],
        lambda data: b"\x00\xff garbage" * 100,
        lambda data: data[:-9] + bytes([data[-9] ^ 1]) + data[-8:],  # one bit of the machine's code
        lambda data: with_its_checksum(b"no pickle"),
        lambda data: with_its_checksum(pickle.dumps(("no", "code"))),
    ],
    ids=["empty", "in its checksum", "cut short", "garbage", "one bit", "no pickle", "no code"],
)
def test_damaged_code_is_told_once_and_compiled_anew(start, damage, caplog):
    double = start()
    assert double(4.0) == 8.0
    file = kept_file(double)
    whole = file.read_bytes()
    file.write_bytes(damage(whole))
    double = start()
    assert double(4.0) == 8.0
    assert double(4) == 8.0  # another signature: it is not told again
    assert [record.getMessage() for record in caplog.records] == [
        "compiled code that was kept on disk is damaged; it is compiled anew"
    ]
    again = start()
    assert jit.is_kept(again)
    assert again(4.0) == 8.0
    assert sum(again.stats.cache_hits.values()) == 1


def test_asked_before_a_run_damaged_code_is_not_kept(start):
    double = start()
    double(4.0)
    assert jit.is_kept(double)
    kept_file(double).write_bytes(b"garbage")
    assert not jit.is_kept(double)


def test_what_is_out_of_date_or_half_written_goes(start, monkeypatch):
    double = start()
    double(4.0)
    folder = jit.kept_in(double)
    old = kept_file(double)
    half = old.with_suffix(".0123456789abcdef.tmp")
    half.write_bytes(b"half")
    os.utime(half, (0, 0))
    monkeypatch.setattr(jit, "_STAMP", (*jit._STAMP, ("kernels/line.py", 1, 1)))
    double = start()
    double(4.0)
    kept = [file for file in folder.iterdir() if file.suffix != ".pyc"]
    assert kept == [kept_file(double)] != [old]


def test_code_beside_its_module_where_only_the_person_may_write(start, tmp_path):
    assert jit.kept_in(start()) == tmp_path / "__pycache__"


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="who may write is asked in a way of Unix")
def test_where_others_may_write_it_is_kept_in_the_persons_own_folder(
    start, tmp_path, tmp_path_factory, monkeypatch
):
    own = tmp_path_factory.mktemp("own")
    monkeypatch.setenv("XDG_CACHE_HOME", str(own))
    tmp_path.chmod(0o777)
    double = start()
    assert double(4.0) == 8.0
    assert jit.kept_in(double).is_relative_to(own / "ellwand" / "code")
    assert not list(tmp_path.rglob("*.code"))


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="who may write is asked in a way of Unix")
class TestWhoMayWrite:
    @pytest.mark.parametrize(
        ("above", "mode", "safe"),
        [
            (0o755, 0o755, True),
            (0o755, 0o700, True),
            (0o755, 0o777, False),
            (0o755, 0o1777, False),  # anyone may put something there
            (0o777, 0o755, False),  # anyone may put another folder in its place
            (0o1777, 0o755, True),  # as in /tmp
            (0o755, 0o775, False),
            (0o775, 0o755, False),
        ],
    )
    def test_by_the_bits_of_a_folder_and_of_those_above(self, tmp_path, monkeypatch, above, mode, safe):
        monkeypatch.setattr(kept_code, "_is_private", lambda group, user: False)
        folder = tmp_path / "above" / "code"
        folder.mkdir(parents=True)
        folder.chmod(mode)
        folder.parent.chmod(above)
        assert nobody_else_writes(folder) is safe

    def test_a_group_of_the_person_alone_is_no_one_else(self, tmp_path, monkeypatch):
        tmp_path.chmod(0o775)
        mine = tmp_path.stat().st_gid
        monkeypatch.setattr(kept_code, "_is_private", lambda group, user: group == mine)
        assert nobody_else_writes(tmp_path)

    def test_a_folder_of_someone_else_is_not_mine(self, tmp_path, monkeypatch):
        monkeypatch.setattr(os, "geteuid", lambda: tmp_path.stat().st_uid + 1)
        assert not nobody_else_writes(tmp_path)

    def test_a_link_is_judged_by_where_it_leads(self, tmp_path):
        (tmp_path / "open").mkdir()
        (tmp_path / "open").chmod(0o777)
        (tmp_path / "link").symlink_to(tmp_path / "open")
        assert not nobody_else_writes(tmp_path / "link")

    def test_what_is_kept_may_be_written_by_nobody_else(self, start, tmp_path):
        before = os.umask(0)  # whoever shares all new files
        try:
            double = start()
            double(4.0)
        finally:
            os.umask(before)
        assert jit.kept_in(double) == tmp_path / "__pycache__"
        for path in (jit.kept_in(double), kept_file(double)):
            assert not stat.S_IMODE(path.stat().st_mode) & 0o022

    def test_what_others_may_have_written_is_not_read(self, start, monkeypatch):
        monkeypatch.setattr(kept_code, "_is_private", lambda group, user: False)
        double = start()
        double(4.0)
        kept_file(double).chmod(0o664)
        double = start()
        assert not jit.is_kept(double)
        assert double(4.0) == 8.0
        assert not double.stats.cache_hits
        assert jit.is_kept(double)  # anew, in its place

    def test_what_someone_else_has_written_is_not_read(self, start, monkeypatch):
        double = start()
        double(4.0)
        monkeypatch.setattr(os, "geteuid", lambda: kept_file(double).stat().st_uid + 1)
        assert not jit.is_kept(double)


def test_code_of_no_file_is_not_kept():
    made: dict[str, object] = {}
    exec("def double(x): return 2.0 * x", made)
    assert folder_for(made["double"]) is None
