"""The program's commands, one small module each, and the terminal's tables."""
