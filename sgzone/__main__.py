"""``python -m sgzone`` is the command line."""

from sgzone.start import start

start()
