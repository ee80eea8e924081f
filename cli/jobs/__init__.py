"""A folder of job files in; out come their texts, edits made whole, every revision, what is installed."""
