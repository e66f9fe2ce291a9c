"""The twins: what is written once in Python and once in JavaScript is held to the same cases, random ones from a seed."""
