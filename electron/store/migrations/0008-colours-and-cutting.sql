-- Colours measured on books, and how this bench cuts.
CREATE TABLE `book_colour` (
	`id` text PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	`of` text NOT NULL,
	`lab` text NOT NULL,
	`measured` text NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `book_colour_of` ON `book_colour` (`book_id`,`of`);
CREATE TABLE `cutting_habits` (
	`id` text PRIMARY KEY NOT NULL,
	`kerf_um` integer NOT NULL,
	`trim_um` integer NOT NULL,
	`useful_um` integer NOT NULL,
	`most_turns` integer
) STRICT;
