"""A QR code as an answer: the way in for a camera, beside what is said in letters."""

from __future__ import annotations

import io

import segno
from flask import Response


def qr_svg(address: str, **look: object) -> Response:
    """The address as a QR code in SVG; `look` is what the library may be asked for (border, scale, light)."""
    out = io.BytesIO()
    segno.make(address, error="m").save(out, kind="svg", xmldecl=False, **look)
    return Response(out.getvalue(), mimetype="image/svg+xml")
