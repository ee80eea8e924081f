"""Data files with their sources in; out come the trade's profiles, rules, materials and usual measures."""
