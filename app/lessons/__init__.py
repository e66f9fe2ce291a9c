"""Packs: read, validated, put into a class's own words. Start at `load.load_pack`."""
