"""How what was agreed on goes: before and since, and over time."""
