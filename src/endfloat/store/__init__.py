"""Where a job's record is kept: memory, SQLite and PostgreSQL, under the same promises."""
