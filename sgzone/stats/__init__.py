"""Statistics on arrays: numpy, scipy and statsmodels; nothing here knows golf."""
