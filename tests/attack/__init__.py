"""A class in session while somebody attacks the server: `python -m tests.attack`.

The server runs as a teacher starts it, on the loopback; 35 Seats hand in and a Desk looks on, in a process of their own.
Everything here goes to 127.0.0.1 and nowhere else, and every attack is bounded in count and in time.
"""
