-- The parts of a book's priority instead of their sum, so that other weights put the shelf in another order without a row being written.
-- The table is derived and nothing hangs on it: it is made anew, and every book is assessed again when the workshop is opened.
DROP TABLE `assessment`;
CREATE TABLE `assessment` (
	`book_id` text PRIMARY KEY NOT NULL,
	`significance` real NOT NULL,
	`decay` real NOT NULL,
	`use` real NOT NULL,
	`benefit` real NOT NULL,
	`minutes_low` integer NOT NULL,
	`minutes_likely` integer NOT NULL,
	`minutes_high` integer NOT NULL,
	`wait_minutes` integer NOT NULL,
	`level` text NOT NULL,
	`suggested_fate` text NOT NULL,
	`reasons` text NOT NULL,
	`hazard_open` integer NOT NULL,
	`operations` text NOT NULL,
	`rules` integer NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE cascade
) STRICT;
