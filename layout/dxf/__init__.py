"""A DXF file in; out come lines, lettering and blocks in place, and what each layer holds."""
