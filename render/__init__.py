"""What to show and how it is stored: the neutral drawing, the sheets, and the SVG, PDF and DXF back ends."""
