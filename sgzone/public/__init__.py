"""What callers of the package get: every question of a season file or of a table in memory.

Here what was given is checked and opened; what comes back has the same types whatever the data:
ordered categories, whole numbers that may be missing, days. Inside the package nobody asks here.
"""
