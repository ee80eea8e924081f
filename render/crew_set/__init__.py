"""A finished result in; out comes its set of sheets for the crew, the cover first."""
