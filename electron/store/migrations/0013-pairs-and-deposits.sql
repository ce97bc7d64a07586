-- What is decided of a course: pairs that must not be, spoilt copies, allocations by name, terms of payment and deposits.
CREATE TABLE `course_pair` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`person_id` text NOT NULL,
	`book_id` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `course_pair_both` ON `course_pair` (`course_id`,`person_id`,`book_id`);CREATE INDEX `course_pair_person` ON `course_pair` (`person_id`);CREATE TABLE `course_ruined` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`book_id` text NOT NULL,
	`at` integer NOT NULL,
	`what` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `course_ruined_copy` ON `course_ruined` (`course_id`,`book_id`);CREATE TABLE `course_sharing` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`name` text NOT NULL,
	`made_at` integer NOT NULL,
	`pairs` text NOT NULL,
	`value` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `course_sharing_name` ON `course_sharing` (`course_id`,`name`);CREATE TABLE `course_terms` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`deposit_minor` integer NOT NULL,
	`decide_on` text,
	`lost_minor` integer NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `course_terms_course` ON `course_terms` (`course_id`);CREATE TABLE `deposit` (
	`id` text PRIMARY KEY NOT NULL,
	`person_id` text NOT NULL,
	`paid_minor` integer NOT NULL,
	`paid_on` text NOT NULL,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `deposit_person` ON `deposit` (`person_id`);
