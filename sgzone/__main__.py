"""``python -m sgzone`` is the command line."""

from sgzone.cli import main

main()
