"""The name of a building model's file in; out comes what was understood of it, and the lines that tell it."""
