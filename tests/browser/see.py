"""`expect` for the walks: the driver's own, and the same words for a page of the third engine."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect as of_driver

from tests.browser.webkit import Seen, WebKitLocator


def expect(thing: Any) -> Any:
    return Seen(thing) if isinstance(thing, WebKitLocator) else of_driver(thing)
