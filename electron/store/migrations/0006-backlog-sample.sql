-- A random sample drawn from the books that nobody has surveyed.
CREATE TABLE `backlog_sample` (
	`id` text PRIMARY KEY NOT NULL,
	`drawn_at` integer NOT NULL,
	`seed` integer NOT NULL,
	`confidence` real NOT NULL,
	`share` real NOT NULL,
	`margin` real NOT NULL,
	`by` text NOT NULL,
	`strata` text NOT NULL
) STRICT;
