"""Drawings put on paper: PDF and PNG, the same bytes from the same drawings."""

import tempfile
from collections.abc import Sequence
from html import unescape
from pathlib import Path
from re import search
from typing import Literal

import typst

from haulm.sheets.draw.type import face_folders

_PICTURE_PPI = 200.0


def _found(pattern: str, svg: str) -> str:
    match = search(pattern, svg)
    return unescape(match.group(1)) if match else ""


def _quoted(words: str) -> str:
    return words.replace("\\", "\\\\").replace('"', '\\"')


def _document(svgs: Sequence[str]) -> str:
    pages = ["#set document(date: none)"]
    for number, svg in enumerate(svgs, start=1):
        width = _found(r'width="([\d.]+)mm"', svg)
        height = _found(r'height="([\d.]+)mm"', svg)
        alt = _quoted(_found(r"<title>([^<]*)</title>", svg))
        pages.append(
            f"#page(width: {width}mm, height: {height}mm, margin: 0pt)["
            f'#image("{number}.svg", width: {width}mm, alt: "{alt}")]'
        )
    title = _quoted(_found(r"<title>([^<]*)</title>", svgs[0])) if svgs else ""
    return "\n".join([f'#set document(title: "{title}")', *pages])


def _compiled(
    svgs: Sequence[str], file_format: Literal["pdf", "png"], pixels_an_inch: float
) -> bytes:
    with tempfile.TemporaryDirectory(prefix="haulm-") as name:
        folder = Path(name)
        for number, svg in enumerate(svgs, start=1):
            (folder / f"{number}.svg").write_text(svg, encoding="utf-8")
        source = folder / "sheets.typ"
        source.write_text(_document(svgs), encoding="utf-8")
        return typst.compile(
            source,
            font_paths=list(face_folders()),
            ignore_system_fonts=True,
            format=file_format,
            ppi=pixels_an_inch,
        )


def to_pdf(svgs: Sequence[str]) -> bytes:
    """Put drawings on paper, one a page, each page as large as its drawing says.

    Texts stay texts: they can be searched, copied and read aloud. The date is left out, so that
    the same drawings give the same bytes.
    """
    return _compiled(svgs, "pdf", _PICTURE_PPI)


def to_png(svg: str, pixels_an_inch: float = _PICTURE_PPI) -> bytes:
    """Turn one drawing into a picture of so many pixels an inch."""
    return _compiled([svg], "png", pixels_an_inch)
