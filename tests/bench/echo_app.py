"""What the server is measured against: Flask with one route that reads JSON and sends it back."""

from __future__ import annotations

from flask import Flask, Response, jsonify, request


def build() -> Flask:
    app = Flask("echo")

    @app.post("/echo")
    def echo() -> Response:
        return jsonify(request.get_json())

    return app
