"""A drawing or a building model in; out comes what was understood of it, and the lines that tell it."""
