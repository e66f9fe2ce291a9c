"""Static files: compressed once, kept in memory, cached by the browser for ever under a versioned address.

`/static/-<version>/seat/main.js` never changes; modules import each other by relative paths and so stay
within their version. `/static/seat/main.js` works too and is asked about each time (ETag).
"""

from __future__ import annotations

import gzip
import hashlib
import mimetypes
import time
from pathlib import Path
from threading import Lock

import brotli  # type: ignore[import-untyped]
from flask import Blueprint, Flask, Response, request
from werkzeug.exceptions import NotFound
from werkzeug.security import safe_join

from app.settings import ROOT

FOLDER = ROOT / "static"
YEAR = "public, max-age=31536000, immutable"
TYPES = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".json": "application/json"}
PACKED = {".woff2": "font/woff2"}  # compressed as they are
VARY = "Accept-Encoding, Cookie"
SMALL = 400  # bytes: below this, compressing costs more than it saves

static = Blueprint("files", __name__)
_lock = Lock()
_kept: dict[tuple[str, int, int, str], bytes] = {}
_version: tuple[float, str] = (0.0, "")


def version() -> str:
    """A short name for the present state of all static files; looked at again after two seconds."""
    global _version
    at, name = _version
    if time.monotonic() - at > 2 or not name:
        mark = hashlib.sha256()
        for path in sorted(FOLDER.rglob("*")):
            if path.is_file():
                stat = path.stat()
                mark.update(f"{path.relative_to(FOLDER)}\x00{stat.st_size}\x00{stat.st_mtime_ns}\n".encode())
        name = mark.hexdigest()[:10]
        _version = (time.monotonic(), name)
    return name


def squeeze(data: bytes, how: str, *, hard: bool) -> bytes:
    """Compressed bytes; `hard` takes the time that only pays for what is sent often."""
    if how == "br":
        packed: bytes = brotli.compress(data, quality=11 if hard else 4)
        return packed
    return gzip.compress(data, 9 if hard else 5, mtime=0)


def best_encoding() -> str:
    """br, gzip or "" by what the browser takes."""
    return encoding_for(request.headers.get("Accept-Encoding", ""))


def encoding_for(accepted: str) -> str:
    if "br" in [part.split(";")[0].strip() for part in accepted.split(",")]:
        return "br"
    return "gzip" if "gzip" in accepted else ""


def _content(path: Path, how: str) -> bytes:
    stat = path.stat()
    key = (str(path), stat.st_mtime_ns, stat.st_size, how)
    with _lock:
        kept = _kept.get(key)
    if kept is None:
        kept = path.read_bytes()
        if how and len(kept) > SMALL:
            kept = squeeze(kept, how, hard=True)
        with _lock:
            _kept[key] = kept
    return kept


def warm() -> None:
    """Compress everything that a browser may ask for, before it does (run in the background)."""
    for path in sorted(FOLDER.rglob("*")):
        if path.suffix in TYPES:
            for how in ("br", "gzip"):
                try:
                    _content(path, how)
                except (OSError, ImportError):
                    continue


@static.get("/static/<path:filename>", endpoint="file")
def file(filename: str) -> Response:
    fixed = filename.startswith("-")
    if fixed:
        filename = filename.partition("/")[2]
    joined = safe_join(str(FOLDER), filename)
    if joined is None or "\x00" in joined or not Path(joined).is_file():
        raise NotFound
    path = Path(joined)
    how = best_encoding() if path.suffix in TYPES and path.stat().st_size > SMALL else ""
    stat = path.stat()
    mark = f'"{stat.st_mtime_ns:x}-{stat.st_size:x}-{how}"'
    known = TYPES.get(path.suffix) or PACKED.get(path.suffix)
    kind = known or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    headers = {"ETag": mark, "Vary": "Accept-Encoding", "Cache-Control": YEAR if fixed else "no-cache"}
    if request.headers.get("If-None-Match") == mark:
        return Response(status=304, headers=headers)
    if how:
        headers["Content-Encoding"] = how
    return Response(_content(path, how), mimetype=kind, headers=headers)


def register(app: Flask) -> None:
    """Serve the files, and compress pages and JSON that are worth it."""
    app.register_blueprint(static)
    app.add_url_rule("/static/<path:filename>", endpoint="static", view_func=file)

    @app.url_defaults
    def _versioned(endpoint: str, values: dict[str, str]) -> None:
        if endpoint == "static" and "filename" in values and not values["filename"].startswith("-"):
            values["filename"] = f"-{version()}/{values['filename']}"

    @app.after_request
    def _compress(answer: Response) -> Response:
        if (
            answer.status_code != 200
            or answer.direct_passthrough
            or answer.is_streamed
            or answer.mimetype not in ("text/html", "application/json", "image/svg+xml", "text/csv")
            or "Content-Encoding" in answer.headers
        ):
            return answer
        length = answer.content_length or 0
        how = best_encoding() if length > 2 * SMALL else ""
        answer.headers.setdefault("Vary", VARY)
        if how:
            answer.set_data(squeeze(answer.get_data(), how, hard=False))
            answer.headers["Content-Encoding"] = how
        return answer
