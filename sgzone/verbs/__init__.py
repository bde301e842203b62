"""The verbs of the command line, one module per group; heavy libraries load inside them."""
