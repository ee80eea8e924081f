"""The name of a page of the guide in; out comes its text, laid out for the terminal."""
