-- What a course knows of its people, rooms, meals, talks and what was met; attention, order and reading of a syllabus.
CREATE TABLE `course_date` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`starts_on` text NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `course_date_day` ON `course_date` (`course_id`,`starts_on`);
CREATE TABLE `course_frame` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`firm` integer NOT NULL,
	`meals` text NOT NULL,
	`helpers` text NOT NULL,
	`reading` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `course_frame_course` ON `course_frame` (`course_id`);
CREATE TABLE `course_note` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`kind` text NOT NULL,
	`at` integer NOT NULL,
	`person_id` text,
	`what` text NOT NULL,
	`done` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE INDEX `course_note_course` ON `course_note` (`course_id`,`at`);
CREATE INDEX `course_note_person` ON `course_note` (`person_id`);
CREATE TABLE `course_talk` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`kind` text NOT NULL,
	`title` text NOT NULL,
	`day` integer NOT NULL,
	`from_minute` integer NOT NULL,
	`minutes` integer NOT NULL,
	`who` text NOT NULL,
	`reading` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE INDEX `course_talk_course` ON `course_talk` (`course_id`,`day`);
CREATE TABLE `guest` (
	`id` text PRIMARY KEY NOT NULL,
	`person_id` text NOT NULL,
	`contact` text NOT NULL,
	`arrives_on` text,
	`first_meal` text NOT NULL,
	`leaves_on` text,
	`last_meal` text NOT NULL,
	`sleeps_out` integer NOT NULL,
	`needs` text NOT NULL,
	`other_needs` text NOT NULL,
	`food_allergies` text NOT NULL,
	`wish` text NOT NULL,
	`wish_quiet` integer NOT NULL,
	`share_with` text NOT NULL,
	`not_with` text NOT NULL,
	`answers` text NOT NULL,
	`books_done` integer NOT NULL,
	`level_by_hand` integer NOT NULL,
	`could_come` text NOT NULL,
	`room_id` text,
	`room_by_hand` integer NOT NULL,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`room_id`) REFERENCES `room`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `guest_person` ON `guest` (`person_id`);
CREATE INDEX `guest_room` ON `guest` (`room_id`);
CREATE TABLE `letter` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`text` text NOT NULL
) STRICT;
CREATE UNIQUE INDEX `letter_name` ON `letter` (`name`);
CREATE TABLE `met` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`person_id` text NOT NULL,
	`operation_id` text NOT NULL,
	`how` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `met_person_operation` ON `met` (`person_id`,`operation_id`);
CREATE INDEX `met_course` ON `met` (`course_id`);
CREATE TABLE `room` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`beds` integer NOT NULL,
	`step_free` integer NOT NULL,
	`ensuite` integer NOT NULL,
	`quiet` integer NOT NULL,
	`note` text NOT NULL
) STRICT;
CREATE UNIQUE INDEX `room_name` ON `room` (`name`);
ALTER TABLE `syllabus_item` ADD `attention` text;
ALTER TABLE `syllabus_item` ADD `after` text DEFAULT '[]' NOT NULL;
ALTER TABLE `syllabus_item` ADD `reading` text DEFAULT '' NOT NULL;
