"""What notebooks show: no script, nothing from outside, every text escaped,
readable on light and dark ground."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import dividing
import pytest
from dividing import Contributor, accuracy
from dividing.inspection import Measurement
from dividing.simulation import SimulatedFeature, Simulation

EVIL = "<script>alert('x')</script>&\"<b>"


class Checked(HTMLParser):
    """Collects tags, colours and addresses; open tags must be closed in order."""

    VOID = frozenset({"img", "br", "hr", "meta"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.styles: list[str] = []
        self.addresses: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        if tag not in self.VOID:
            self.open.append(tag)
        for name, value in attrs:
            assert not name.startswith("on"), name
            if name == "style":
                self.styles.append(value or "")
            if name in ("src", "href"):
                self.addresses.append(value or "")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data


def pages() -> dict[str, str]:
    part = Contributor(EVIL, 0.01, sensitivity=0.02)
    ring = Measurement.deviations(
        [3, -1, -2, 0], standard_uncertainty_arcsec=0.1, name=EVIL, measured_by=EVIL
    ).inspect()
    job = Simulation([SimulatedFeature([part])] * 5, title=EVIL)
    workshop = dividing.Workshop(
        EVIL,
        [
            {
                "direct_plate": {
                    "name": EVIL,
                    "circles": [{"holes": 12, "pitch_radius": 50}],
                    "registration": {
                        "pin_diameter": 5.98,
                        "hole_diameter": 6,
                        "hole_position_tolerance": 0.02,
                    },
                }
            }
        ],
    )
    plans = dividing.plan(workshop, dividing.Job(EVIL, divisions=6, tolerance="1 deg"))
    closure = Measurement.closure([[0, 1, -1], [1, -1, 0], [-1, 0, 1]], [0, 1, 2], name=EVIL)
    return {
        "budget": accuracy.Budget.of_contributors(EVIL, [part])._repr_html_(),
        "simulation": job.run(trials=10_000)._repr_html_(),
        "inspection": ring._repr_html_(),
        "closure": closure.inspect()._repr_html_(),
        "verdict": ring.check_ring(single_pitch_rad=1e-4)._repr_html_(),
        "trade-offs": accuracy.ErrorModel(plans[0]).trade_offs()._repr_html_(),
        "workshop": workshop._repr_html_(),
        "brief": dividing.PlateBrief(
            dividing.Disc(100), divisions=[9], hole_diameter=6, least_web=2,
            least_edge_distance=3, angles=["17.5 deg"], used=dividing.ForWormHead(ratio=40),
        )._repr_html_(),
        "plans": plans._repr_html_(),
        "plan": plans[0]._repr_html_(),
    }


PAGES = pages()


@pytest.mark.parametrize("name", PAGES)
def test_pages(name: str) -> None:
    page = Checked()
    page.feed(PAGES[name])
    page.close()
    assert not page.open
    assert not page.tags & {"script", "link", "iframe", "object", "embed", "b"}
    assert all(it.startswith("data:image/svg+xml;base64,") for it in page.addresses)
    if name not in ("brief", "verdict", "trade-offs"):
        assert EVIL in page.text
    # Letters and grounds in the page's own colours: nothing but currentColor.
    for style in page.styles:
        assert not re.search(r"(?<![-a-z])(color|background)\s*:", style), style
        assert "url(" not in style and "#" not in style


def test_pictures_are_well_formed() -> None:
    ring = Measurement.deviations([3, -1, -2, 0], name=EVIL).inspect().drawing
    part = Contributor("hole", 0.01, sensitivity=0.02)
    job = Simulation([SimulatedFeature([part])] * 5, title=EVIL)
    for drawing in (ring, job.run(trials=10_000).drawing):
        assert drawing is not None
        root = ElementTree.fromstring(drawing._repr_svg_())
        assert root.tag.endswith("svg")
        assert not [it for it in root.iter() if it.tag.endswith("script")]
        assert EVIL in "".join(root.itertext())
