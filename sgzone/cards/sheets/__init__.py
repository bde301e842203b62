"""Workbooks of other programs than those that write .xlsx, read by the same limits."""
