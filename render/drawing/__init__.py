"""Lines, texts and dimensions on named pens in; out comes a drawing on paper, the same for all formats."""
