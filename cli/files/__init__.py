"""Bytes and names in; out come files, written whole or not at all."""
