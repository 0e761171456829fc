"""An address as a QR code (ISO/IEC 18004), for a phone's camera."""

from io import StringIO

try:
    import segno
except ImportError:
    THERE = False
else:
    THERE = True


def drawn(address: str) -> str:
    """Draw an address as SVG; empty where the machine has nothing to draw it with."""
    if not THERE:
        return ""
    return str(segno.make(address, error="m").svg_inline(scale=6, border=4, light="#fff"))


def printed(address: str) -> str:
    """Write an address as lines for a terminal; empty where there is nothing to write it with."""
    if not THERE:
        return ""
    lines = StringIO()
    segno.make(address, error="m").terminal(out=lines, border=2, compact=True)
    return lines.getvalue()
