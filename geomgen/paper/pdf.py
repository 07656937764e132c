"""Writes pages as PDF at full size; equal pages give equal bytes."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from geomgen.paper.curves import curves
from geomgen.paper.drawn import PENS, Drawn, Filled, Line, Style, Words
from geomgen.paper.pages import paper_pages
from geomgen.paper.sizes import Paper
from geomgen.paper.template import Template
from geomgen.paper.tiles import OVERLAP_MM
from geomgen.paper.wording import BOLD, PLAIN, latin
from geomgen.plane.path import Path

POINT_MM = 25.4 / 72.0  # the format's own unit


def paper_pdf(
    templates: Sequence[Template],
    paper: Paper,
    overlap_mm: float = OVERLAP_MM,
    *,
    title: str,
    unit: str = "mm",
    cautions: Sequence[str] = (),
) -> bytes:
    """Templates to stick on a sheet and cut along, 1:1.

    templates  : one for each different part, see `template`
    paper      : A4, A3, Letter or a roll, see `sizes`
    overlap_mm : that neighbouring tiles share [mm]
    title      : of the design
    unit       : the design's own unit of length, for what is written
    cautions   : what a cutter should mind, a paragraph each, for the first page
    raises     : ValueError where there is no template, or tiles can't overlap by so much
    """
    return write_pdf(paper_pages(templates, paper, overlap_mm, title=title, unit=unit, cautions=cautions), title)


def write_pdf(pages: Sequence[Drawn], title: str) -> bytes:
    """Pages as a PDF that asks to be printed unscaled; its date is fixed."""
    from reportlab.pdfgen.canvas import Canvas

    data = io.BytesIO()
    canvas = Canvas(data, invariant=1, pageCompression=1, initialFontName=PLAIN)
    canvas.setTitle(title)
    canvas.setCreator("geomgen")
    canvas.setProducer("geomgen")
    canvas.setViewerPreference("PrintScaling", "None")
    for drawn in pages:
        canvas.setPageSize((drawn.page.wide_mm / POINT_MM, drawn.page.high_mm / POINT_MM))
        canvas.scale(1.0 / POINT_MM, 1.0 / POINT_MM)
        canvas.setLineJoin(1)
        for item in drawn.items:
            match item:
                case Line():
                    _line(canvas, item.paths, item.style)
                case Filled():
                    _filled(canvas, item)
                case Words():
                    _words(canvas, item)
        canvas.showPage()
    canvas.save()
    return data.getvalue()


def _line(canvas: Any, paths: Sequence[Path], style: Style) -> None:
    pen = PENS[style]
    canvas.setLineWidth(pen.width_mm)
    canvas.setStrokeColorRGB(*pen.colour)
    canvas.setDash(list(pen.dashes_mm))
    drawn = canvas.beginPath()
    for path in paths:
        drawn.moveTo(*path.xy[0].tolist())
        for curve in curves(path):
            if len(curve) == 1:
                drawn.lineTo(*curve[0].tolist())
            else:
                drawn.curveTo(*curve.ravel().tolist())
        if path.closed:
            drawn.close()
    canvas.drawPath(drawn, stroke=1, fill=0)


def _filled(canvas: Any, item: Filled) -> None:
    canvas.setFillColorRGB(*(0.5 + 0.5 * each for each in PENS[item.style].colour))
    drawn = canvas.beginPath()
    drawn.moveTo(*item.corners[0])
    for corner in item.corners[1:]:
        drawn.lineTo(*corner)
    drawn.close()
    canvas.drawPath(drawn, stroke=0, fill=1)


def _words(canvas: Any, item: Words) -> None:
    canvas.setFillColorRGB(*PENS[item.style].colour)
    canvas.setFont(BOLD if item.bold else PLAIN, item.size_mm)
    place = canvas.drawCentredString if item.middle else canvas.drawString
    if not item.turn_deg:
        place(*item.at, latin(item.text))
        return
    canvas.saveState()
    canvas.translate(*item.at)
    canvas.rotate(item.turn_deg)
    place(0.0, 0.0, latin(item.text))
    canvas.restoreState()
