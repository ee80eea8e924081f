"""The regions found on a drafter's drawing in; out comes a picture with their numbers, to pick from."""
