"""Static files: compressed once, kept in memory, cached by the browser for ever under a versioned address.

`/static/-<version>/seat/main.js` never changes; modules import each other by relative paths and so stay
within their version. `/static/seat/main.js` works too and is asked about each time (ETag).

A slow line makes each request dear, so a page asks for its sheets in one file and for its catalogues in one
(`SHEETS`, `WORDS`): `css/tokens+base.css` is one after the other, `words/en/seat+live.js` exports
`{seat: …, live: …}`. Scripts go out without their comments (each line keeps its number).
"""

from __future__ import annotations

import gzip
import hashlib
import mimetypes
import re
import time
from collections.abc import Iterable
from pathlib import Path
from threading import Lock

import brotli  # type: ignore[import-untyped]
from flask import Blueprint, Flask, Response, current_app, request
from werkzeug.exceptions import NotFound
from werkzeug.security import safe_join

from app.settings import ROOT
from app.web import gathered

FOLDER = ROOT / "static"
YEAR = "public, max-age=31536000, immutable"
TYPES = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".json": "application/json"}
PACKED = {".woff2": "font/woff2"}  # compressed as they are
VARY = "Accept-Encoding, Cookie"
SMALL = 400  # bytes: below this, compressing costs more than it saves

# What each kind of page brings, as one file each. No other files are joined: each costs memory and the time to pack it.
SHEETS = {
    "plain": "css/tokens+base.css",
    "door": "css/tokens+base+door.css",
    "desk": "css/tokens+base+desk.css",
    "form": "css/tokens+base+desk+practice.css",
    "period": "css/tokens+base+desk+figure+prove+construct+stage.css",
    "board": "css/tokens+base+figure+prove+construct+stage+board.css",
    "seat": "css/tokens+base+figure+stage+seat.css",
}
WORDS = {
    "records": "desk+figure",
    "period": "desk+live+figure",
    "board": "board+live+figure",
    "seat": "seat+live+figure+angles",
}

# How files are put together is part of what a browser may keep for ever.
MADE = Path(__file__).read_bytes() + Path(gathered.__file__).read_bytes()

# Comments that begin a line; what stands in a string or behind code stays.
_COMMENT = re.compile(r"^[ \t]*(?:/\*\*(?:[^*]|\*(?!/))*\*/[ \t]*$|//[^\n]*$)", re.MULTILINE)

static = Blueprint("files", __name__)
_lock = Lock()
_kept: dict[tuple[str, str], bytes] = {}
_graphs: dict[tuple[str, str], tuple[str, ...]] = {}
_scripts: dict[tuple[str, str], str] = {}
_version: tuple[float, str] = (0.0, "")


def version() -> str:
    """A short name for the present state of all static files; looked at again after two seconds."""
    global _version
    at, name = _version
    if time.monotonic() - at > 2 or not name:
        mark = hashlib.sha256(MADE)
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
        # The last steps cost ten times as much and save a twelfth: for small files, not for all scripts of a page.
        packed: bytes = brotli.compress(data, quality=(11 if len(data) < 40_000 else 9) if hard else 4)
        return packed
    return gzip.compress(data, 9 if hard else 5, mtime=0)


def best_encoding() -> str:
    """br, gzip or "" by what the browser takes."""
    return encoding_for(request.headers.get("Accept-Encoding", ""))


def encoding_for(accepted: str) -> str:
    if "br" in [part.split(";")[0].strip() for part in accepted.split(",")]:
        return "br"
    return "gzip" if "gzip" in accepted else ""


def bare(script: str) -> str:
    """The script without its comments, line for line."""
    return _COMMENT.sub(lambda found: "\n" * found[0].count("\n"), script)


def modules(*entries: str) -> tuple[str, ...]:
    """Every script that these scripts name, and those in turn, by its path in static/."""
    key = (version(), " ".join(entries))
    if key not in _graphs:
        _graphs[key] = tuple(gathered.order(entries, _script))
    return _graphs[key]


def scripts_of(script: str, page: str | None = None, later: Iterable[str] = ()) -> tuple[str, tuple[str, ...]]:
    """(the page's script, what to fetch beside it): gathered, or with `--debug` the modules as they were written."""
    if page is None or current_app.config.get("SCRIPTS_APART"):
        return script, modules(script, *later)
    return f"{gathered.FOLDER}{page}.js", tuple(f"{gathered.FOLDER}{page}/{name}" for name in later)


def sheets_of(page: str) -> str:
    return SHEETS[page]


def words_of(page: str, language: str) -> str:
    return f"words/{language}/{WORDS[page]}.js"


def parts(filename: str) -> list[Path]:
    """The files behind a name: one, or those of a name in the tables above. [] where there are none."""
    if filename.startswith(gathered.FOLDER):
        key = (version(), filename)
        if key not in _graphs:
            try:
                _graphs[key] = tuple(gathered.names(filename, _script))
            except OSError:
                return []
        return [FOLDER / name for name in _graphs[key]]
    folder, _, last = filename.rpartition("/")
    stem, dot, ending = last.rpartition(".")
    names = [last]
    if "+" in last and (filename in SHEETS.values() or (folder.startswith("words/") and stem in WORDS.values())):
        names = [f"{name}{dot}{ending}" for name in stem.split("+")]
    found = [safe_join(str(FOLDER), folder, name) for name in names]
    if any(path is None or "\x00" in path or not Path(path).is_file() for path in found):
        return []
    return [Path(path) for path in found if path]


def _script(name: str) -> str:
    key = (version(), name)
    if key not in _scripts:
        _scripts[key] = bare((FOLDER / name).read_text(encoding="utf-8"))
    return _scripts[key]


def _text(filename: str, paths: list[Path]) -> bytes:
    """What these files are together, under this name."""
    if filename.startswith(gathered.FOLDER):
        return gathered.text(filename, _script).encode()
    if len(paths) == 1 and paths[0].suffix != ".js":
        return paths[0].read_bytes()
    texts = [path.read_text(encoding="utf-8") for path in paths]
    if paths[0].suffix == ".js":
        texts = [bare(text) for text in texts]
    if len(paths) > 1 and paths[0].suffix == ".js":
        # A catalogue is one object: `export default {…};`
        texts = [
            text.replace("export default ", f"const {path.stem} = ", 1) for text, path in zip(texts, paths, strict=True)
        ] + [f"export default {{ {', '.join(path.stem for path in paths)} }};"]
    return "\n".join(texts).encode()


def _content(filename: str, paths: list[Path], mark: str, how: str) -> bytes:
    # By the files, not by how they were asked for: `css/./base.css` is no other file than `css/base.css`.
    key = (filename if filename.startswith(gathered.FOLDER) else " ".join(map(str, paths)), mark)
    with _lock:
        kept = _kept.get(key)
    if kept is None:
        kept = _text(filename, paths)
        if how:  # as the answer's head says, also where little is left of a script without its comments
            kept = squeeze(kept, how, hard=True)
        with _lock:
            _kept[key] = kept
    return kept


def _mark(paths: list[Path], how: str) -> str:
    """The ETag of these files in this packing."""
    stats = [path.stat() for path in paths]
    return f'"{max(one.st_mtime_ns for one in stats):x}-{sum(one.st_size for one in stats):x}-{how}"'


def warm() -> None:
    """Compress everything that a browser may ask for, before it does (run in the background)."""
    languages = sorted(path.name for path in (FOLDER / "words").iterdir() if path.is_dir())
    joined = [*SHEETS.values(), *(words_of(page, language) for page in WORDS for language in languages)]
    joined += gathered.entries(FOLDER)
    within = {path for name in joined for path in parts(name)}
    alone = [path for path in sorted(FOLDER.rglob("*")) if path.suffix in TYPES and path not in within]
    for name in joined + [path.relative_to(FOLDER).as_posix() for path in alone]:
        for how in ("br", "gzip"):
            try:
                if found := parts(name):
                    _content(name, found, _mark(found, how), how)
            except (OSError, ImportError):
                continue


@static.get("/static/<path:filename>", endpoint="file")
def file(filename: str) -> Response:
    fixed = filename.startswith("-")
    if fixed:
        filename = filename.partition("/")[2]
    paths = parts(filename)
    if not paths:
        raise NotFound
    path = paths[0]
    how = best_encoding() if path.suffix in TYPES and sum(one.stat().st_size for one in paths) > SMALL else ""
    mark = _mark(paths, how)
    known = TYPES.get(path.suffix) or PACKED.get(path.suffix)
    kind = known or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    headers = {"ETag": mark, "Vary": "Accept-Encoding", "Cache-Control": YEAR if fixed else "no-cache"}
    if request.headers.get("If-None-Match") == mark:
        return Response(status=304, headers=headers)
    if how:
        headers["Content-Encoding"] = how
    return Response(_content(filename, paths, mark, how), mimetype=kind, headers=headers)


def register(app: Flask) -> None:
    """Serve the files, and compress pages and JSON that are worth it."""
    app.register_blueprint(static)
    app.add_url_rule("/static/<path:filename>", endpoint="static", view_func=file)
    app.jinja_env.globals.update(scripts_of=scripts_of, sheets_of=sheets_of, words_of=words_of)

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
