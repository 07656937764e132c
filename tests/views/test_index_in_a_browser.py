"""The page in a real browser with no network: nothing is asked for, nothing leaves the page at its side or on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import Browser, browser, found

from geomgen.craft import Craft
from geomgen.making import make

pytestmark = pytest.mark.skipif(found() is None, reason="no Chromium on this machine")
LEAVES = """[...document.querySelectorAll('body *')].filter(one => !one.closest('svg') && !one.closest('.scroll table')
    && one.getBoundingClientRect().right > innerWidth + 0.5).map(one => one.outerHTML.slice(0, 80))"""
FLAT = """[...document.querySelectorAll('figure svg')].filter(one => { const box = one.getBoundingClientRect();
    return box.width < 40 || box.height < 10 }).map(one => one.id)"""
INK = "getComputedStyle(document.querySelector('{}')).{}"
A4_IN, LETTER_IN = (8.27, 11.69), (8.5, 11.0)


@pytest.fixture(scope="module")
def page(lantern: Craft, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's page, alone in a folder."""
    file = tmp_path_factory.mktemp("page") / "index.html"
    file.write_bytes(make(lantern).files["index.html"])
    return file


@pytest.fixture(scope="module")
def tab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with browser(tmp_path_factory.mktemp("profile")) as one:
        yield one


@pytest.mark.parametrize("wide", [360, 1400])
def test_it_asks_for_nothing_and_fits_its_window(tab: Browser, page: Path, wide: int) -> None:
    tab.open(page, wide)
    asked = [
        event["params"]["request"]["url"] for event in tab.events if event["method"] == "Network.requestWillBeSent"
    ]
    assert asked == [page.resolve().as_uri()]
    assert [event for event in tab.events if event["method"] in ("Log.entryAdded", "Runtime.exceptionThrown")] == []
    assert tab.value("document.documentElement.scrollWidth <= innerWidth")
    assert tab.value(LEAVES) == [] and tab.value(FLAT) == []
    assert tab.value("document.compatMode") == "CSS1Compat"


def test_dark_is_readable(tab: Browser, page: Path) -> None:
    """Words and pictures change with the page: light on dark, and on a part its outline too."""
    for scheme, ink, paper in (("light", "29, 39, 51", "255, 255, 255"), ("dark", "232, 235, 240", "20, 24, 29")):
        tab.open(page, 1400, scheme=scheme)
        assert tab.value(INK.format("body", "color")) == f"rgb({ink})"
        assert tab.value(INK.format("body", "backgroundColor")) == f"rgb({paper})"
        assert tab.value(INK.format("svg .paper-fill", "fill")) == f"rgb({paper})"
        assert tab.value(INK.format("#part-rib_R06 svg .ink", "stroke")) == f"rgb({ink})"
        assert tab.value(INK.format("svg text.ink", "fill")) == f"rgb({ink})"


@pytest.mark.parametrize("paper", [A4_IN, LETTER_IN], ids=["A4", "Letter"])
def test_on_paper_no_figure_is_cut(tab: Browser, page: Path, paper: tuple[float, float]) -> None:
    """Each figure is lower than a page and may not be broken; the paper's pages are of its size and few."""
    tab.open(page, 1400)
    pdf = tab.printed(*paper)
    pages = pdf.count(b"/Type /Page\n") or pdf.count(b"/Type /Page ") or pdf.count(b"/Type /Page")
    assert pdf.startswith(b"%PDF") and 5 < pages < 40
    tab.call("Emulation.setEmulatedMedia", media="print")
    wide, high = (96.0 * (inches - 28.0 / 25.4) for inches in paper)
    tab.call("Emulation.setDeviceMetricsOverride", width=int(wide), height=int(high), deviceScaleFactor=1, mobile=False)
    boxes = "[...document.querySelectorAll('figure')].map(one => [one.offsetHeight, getComputedStyle(one).breakInside])"
    for tall, inside in tab.value(boxes):
        assert tall < high and inside == "avoid"
    assert tab.value("document.documentElement.scrollWidth <= innerWidth")
    assert tab.value("getComputedStyle(document.querySelector('nav')).display") == "none"
    tab.call("Emulation.setEmulatedMedia", media="")
