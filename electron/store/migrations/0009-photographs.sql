-- Photographs by the hash of their file, and what a person says in a treatment record.
CREATE TABLE `photograph` (
	`id` text PRIMARY KEY NOT NULL,
	`hash` text NOT NULL,
	`media_type` text NOT NULL,
	`bytes` integer NOT NULL,
	`width_px` integer NOT NULL,
	`height_px` integer NOT NULL,
	`taken_at` integer,
	`added_at` integer NOT NULL,
	`book_id` text,
	`finding_id` text,
	`piece_id` text,
	`stage` text NOT NULL,
	`caption` text NOT NULL,
	`file_name` text NOT NULL,
	`scale` text,
	`marks` text NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`finding_id`) REFERENCES `finding`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`piece_id`) REFERENCES `piece`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE INDEX `photograph_hash` ON `photograph` (`hash`);
CREATE INDEX `photograph_book` ON `photograph` (`book_id`);
CREATE INDEX `photograph_finding` ON `photograph` (`finding_id`);
CREATE INDEX `photograph_piece` ON `photograph` (`piece_id`);
CREATE TABLE `treatment_record` (
	`id` text PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	`description` text NOT NULL,
	`condition_before` text NOT NULL,
	`purpose` text NOT NULL,
	`departures` text NOT NULL,
	`kept` text NOT NULL,
	`condition_after` text NOT NULL,
	`care` text NOT NULL,
	`signed_by` text NOT NULL,
	`signed_on` text,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `treatment_record_book` ON `treatment_record` (`book_id`);
