"""Where a job's record is kept: memory and SQLite, under the same promises."""
