"""What the sheets' room draws for every page alike."""

from haulm.sheets.page.faces import FACES, WebFace, web_face

__all__ = ["FACES", "WebFace", "web_face"]
