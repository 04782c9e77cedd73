"""The demo data is found in an installed package and in the source tree."""

import pytest

from service.client import examples


def test_the_source_tree_holds_the_demo():
    folder = examples.examples_folder()
    names = {"demo-trial.json", "demo-readings.csv", "demo-one-scan.csv"}
    assert names <= {file.name for file in folder.iterdir()}


def test_an_installed_package_holds_it_within(tmp_path, monkeypatch):
    room = tmp_path / "site-packages" / "service"
    (room / "openapi" / "examples").mkdir(parents=True)
    monkeypatch.setattr(examples, "ROOM", room)
    assert examples.examples_folder() == room / "openapi" / "examples"


def test_an_installation_without_it_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr(examples, "ROOM", tmp_path / "service")
    with pytest.raises(FileNotFoundError, match="missing from this installation"):
        examples.examples_folder()
