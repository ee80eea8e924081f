"""The trade's values with their sources, from data files; out come profiles, rules and materials."""
