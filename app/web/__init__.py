"""Pages, JSON, streams, sign-in: the only layer that knows Flask."""

from __future__ import annotations

from typing import Any

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from app.settings import ROOT
from app.web import (
    api,
    board,
    desk,
    desk_packs,
    desk_period,
    desk_records,
    door,
    errors,
    late,
    readers,
    seat,
    security,
    static,
)
from app.web.arrived import Arrived
from app.web.hosts import Forwarded, Hosts, own_names
from app.web.quick import Gate, Quick
from app.web.server import Server
from app.words import plain, tell

PAGES = (api, door, seat, desk, desk_packs, desk_period, desk_records, board)
UPLOAD_MOST = 2 * 1024 * 1024


def build(config: dict[str, object]) -> Flask:
    """Make the application from its settings."""
    app = Flask("app", static_folder=None, template_folder=str(ROOT / "templates"))
    app.config.from_mapping(
        MAX_CONTENT_LENGTH=UPLOAD_MOST,
        MAX_FORM_MEMORY_SIZE=65_536,
        MAX_FORM_PARTS=50,
        TRAP_HTTP_EXCEPTIONS=False,
    )
    app.config.from_mapping(config)
    app.url_map.strict_slashes = False
    app.json.default = plain  # type: ignore[attr-defined]
    server = app.extensions["eight_angles"] = Server(config)
    errors.register(app)
    readers.register(app)
    security.register(app)
    static.register(app)
    for pages in PAGES:
        pages.register(app)
    app.register_blueprint(late.sheets())
    hosted, declared = server.hosted, server.settings.hosts

    def mark(environ: Any) -> str:
        found = security.mark_of(server, environ)
        return found.id if found else ""

    inside: Any = Gate(Arrived(Quick(app), UPLOAD_MOST, mark), app)
    # Behind TLS a stranger's name has no certificate here; with a name declared, only that one is served.
    names = own_names(declared) if declared or not hosted else None
    inside = Hosts(inside, names, lambda: tell("web.host_unknown"))
    app.wsgi_app = security.Stamped(inside, hosted=hosted)  # type: ignore[assignment, method-assign]
    proxies = server.settings.proxies
    if proxies:
        fixed = ProxyFix(app.wsgi_app, x_for=proxies, x_proto=proxies, x_host=proxies)
        app.wsgi_app = Forwarded(fixed)  # type: ignore[assignment, method-assign]
    return app
