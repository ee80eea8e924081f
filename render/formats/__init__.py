"""Sheets in; out come the bytes of SVG, PDF, DXF and PNG files."""
