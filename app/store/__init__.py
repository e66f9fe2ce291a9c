"""What is kept: tables, migrations, the one writer, live notices. The only layer that knows SQL."""
