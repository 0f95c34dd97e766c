"""The JSON schema of specs, held against a validator of the published standard (draft 2020-12)."""

import copy
import datetime
import json
import subprocess
import tomllib

import pytest
from conftest import ROOT
from jsonschema import Draft202012Validator

SAMPLES = sorted((ROOT / "sample-specs").glob("*.toml"))


@pytest.fixture(scope="module")
def schema_of(program):
    known = {}

    def ask(*family):
        if family not in known:
            said = subprocess.run([program, "schema", *family], capture_output=True, text=True,
                                  check=True, stdin=subprocess.DEVNULL, timeout=60)
            known[family] = json.loads(said.stdout)
            Draft202012Validator.check_schema(known[family])
        return Draft202012Validator(known[family])

    return ask


def read(path):
    return plain(tomllib.loads(path.read_text(encoding="utf-8")))


def plain(value):
    """As JSON has it: a date is a text."""
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [plain(item) for item in value]
    return value.isoformat() if isinstance(value, datetime.date) else value


def over(top, own):
    """An entry of `kits` over what stands at the top: tables are added to, other values replaced."""
    whole = {key: value for key, value in top.items() if key != "kits"}
    for key, value in own.items():
        both = isinstance(value, dict) and isinstance(whole.get(key), dict)
        whole[key] = over(whole[key], value) if both else value
    return whole


def kits_of(spec):
    return [over(spec, own) for own in spec["kits"]] if "kits" in spec else [spec]


def troubles(validator, spec):
    return [f"{error.json_path}: {error.message}" for error in validator.iter_errors(spec)]


def test_there_are_both_kinds():
    several = ["kits" in read(path) for path in SAMPLES]
    assert any(several) and not all(several)


@pytest.mark.parametrize("path", SAMPLES, ids=[path.stem for path in SAMPLES])
def test_every_sample_is_valid(schema_of, path):
    spec = read(path)
    assert troubles(schema_of(), spec) == []
    for kit in kits_of(spec):
        assert troubles(schema_of(kit["template"]), kit) == []


def test_several_kits_of_one_family_are_valid(schema_of):
    spec = read(ROOT / "sample-specs/twin-bays.toml")
    spec["kits"] = [kit for kit in spec["kits"] if kit["template"] == "overhead-door"]
    assert len(spec["kits"]) == 2
    assert troubles(schema_of("overhead-door"), spec) == []
    spec["kits"][1]["opening"]["clear_wdith"] = 2440
    assert any("clear_wdith" in told for told in troubles(schema_of("overhead-door"), spec))


@pytest.mark.parametrize("key", ["kit", "template", "revision", "date"])
def test_one_kit_needs_its_head(schema_of, key):
    spec = read(ROOT / "sample-specs/kelp-hall.toml")
    del spec[key]
    assert any(key in told for told in troubles(schema_of(), spec))
    assert any(key in told for told in troubles(schema_of("overhead-door"), spec))


@pytest.mark.parametrize("change", [
    lambda spec: spec.update(kits=[]),
    lambda spec: spec.update(kits=3),
    lambda spec: spec["kits"][0].pop("kit"),
    lambda spec: spec["kits"][1].pop("template"),
    lambda spec: spec["kits"][0].update(kit="not a number"),
    lambda spec: spec["kits"][2].update(container={"wall": "roof"}),
    lambda spec: spec.update(units="yards")])
def test_several_kits_with_a_slip_are_not_valid(schema_of, change):
    spec = copy.deepcopy(read(ROOT / "sample-specs/twin-bays.toml"))
    change(spec)
    assert troubles(schema_of(), spec)
