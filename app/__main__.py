"""`python -m app` is the command `eight-angles`."""

from app.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
