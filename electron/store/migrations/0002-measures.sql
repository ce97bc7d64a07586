-- Where a book differs from what its size and binding give.
CREATE TABLE `measure` (
	`id` text PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	`calculation` text NOT NULL,
	`field` text NOT NULL,
	`length_um` integer,
	`words` text,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE UNIQUE INDEX `measure_field` ON `measure` (`book_id`,`calculation`,`field`);
