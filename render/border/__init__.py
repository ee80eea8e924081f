"""Whose sheet it is in; out comes its border and its title block."""
