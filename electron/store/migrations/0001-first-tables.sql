CREATE TABLE `arrival` (
	`id` text PRIMARY KEY NOT NULL,
	`material_id` text NOT NULL,
	`quantity_millionths` integer NOT NULL,
	`ordered_on` text NOT NULL,
	`due_on` text NOT NULL,
	`received_at` integer,
	FOREIGN KEY (`material_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `arrival_material` ON `arrival` (`material_id`);
CREATE TABLE `assessment` (
	`book_id` text PRIMARY KEY NOT NULL,
	`score` real NOT NULL,
	`minutes_low` integer NOT NULL,
	`minutes_likely` integer NOT NULL,
	`minutes_high` integer NOT NULL,
	`wait_minutes` integer NOT NULL,
	`level` text NOT NULL,
	`suggested_fate` text NOT NULL,
	`reason` text NOT NULL,
	`hazard_open` integer NOT NULL,
	`operations` text NOT NULL,
	`rules` integer NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE cascade
) STRICT;

CREATE INDEX `assessment_score` ON `assessment` ("score" desc,`book_id`);
CREATE TABLE `book` (
	`id` text PRIMARY KEY NOT NULL,
	`shelf_mark` text,
	`title` text NOT NULL,
	`author` text NOT NULL,
	`imprint` text NOT NULL,
	`date_text` text NOT NULL,
	`year_from` integer,
	`year_to` integer,
	`format` text NOT NULL,
	`height_um` integer,
	`width_um` integer,
	`thickness_um` integer,
	`pages` integer,
	`pages_text` text NOT NULL,
	`binding` text,
	`colour` text NOT NULL,
	`pattern` text,
	`lot_id` text,
	`place_id` text,
	`fate` text,
	`fate_locked` integer NOT NULL,
	`stage` text NOT NULL,
	`use` text NOT NULL,
	`significance` integer NOT NULL,
	`scarcity` text NOT NULL,
	`completeness` text NOT NULL,
	`note` text NOT NULL,
	`created_at` integer NOT NULL,
	FOREIGN KEY (`lot_id`) REFERENCES `lot`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`place_id`) REFERENCES `place`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE UNIQUE INDEX `book_shelf_mark` ON `book` (`shelf_mark`);
CREATE INDEX `book_lot` ON `book` (`lot_id`);
CREATE INDEX `book_place` ON `book` (`place_id`);
CREATE INDEX `book_stage` ON `book` (`stage`);
CREATE TABLE `book_number` (
	`number` integer PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE cascade
) STRICT;

CREATE UNIQUE INDEX `book_number_book_id_unique` ON `book_number` (`book_id`);
CREATE TABLE `course` (
	`id` text PRIMARY KEY NOT NULL,
	`title` text NOT NULL,
	`starts_on` text NOT NULL,
	`days` integer NOT NULL,
	`day_hours` text NOT NULL,
	`tutors` integer NOT NULL,
	`helpers` integer NOT NULL,
	`benches` integer NOT NULL,
	`fee_minor` integer NOT NULL,
	`fixed_cost_minor` integer NOT NULL,
	`per_head_cost_minor` integer NOT NULL,
	`copies_each` text NOT NULL,
	`spares` integer NOT NULL,
	`note` text NOT NULL
) STRICT;

CREATE TABLE `course_copy` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`book_id` text NOT NULL,
	`person_id` text,
	`locked` integer NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE UNIQUE INDEX `course_copy_book` ON `course_copy` (`course_id`,`book_id`);
CREATE INDEX `course_copy_of` ON `course_copy` (`book_id`);
CREATE INDEX `course_copy_person` ON `course_copy` (`person_id`);
CREATE TABLE `entry` (
	`id` text PRIMARY KEY NOT NULL,
	`at` integer NOT NULL,
	`book_id` text,
	`course_id` text,
	`person_id` text,
	`operation_id` text,
	`minutes` integer,
	`note` text NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `entry_at` ON `entry` (`at`);
CREATE INDEX `entry_book` ON `entry` (`book_id`);
CREATE INDEX `entry_course` ON `entry` (`course_id`);
CREATE INDEX `entry_person` ON `entry` (`person_id`);
CREATE TABLE `finding` (
	`id` text PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	`part` text NOT NULL,
	`damage` text NOT NULL,
	`severity` integer NOT NULL,
	`count` integer,
	`note` text NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `finding_book` ON `finding` (`book_id`);
CREATE TABLE `hazard` (
	`id` text PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	`kind` text NOT NULL,
	`state` text NOT NULL,
	`reason` text NOT NULL,
	`decision` text NOT NULL,
	`decided_at` integer,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE UNIQUE INDEX `hazard_book_kind` ON `hazard` (`book_id`,`kind`);
CREATE TABLE `journal` (
	`seq` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`at` integer NOT NULL,
	`label` text NOT NULL,
	`kind` text NOT NULL,
	`answers` integer,
	`standing` text
) STRICT;

CREATE INDEX `journal_standing` ON `journal` (`standing`,`seq`);
CREATE TABLE `journal_run` (
	`seq` integer NOT NULL,
	`run` integer NOT NULL,
	`changes` text NOT NULL,
	PRIMARY KEY(`seq`, `run`),
	FOREIGN KEY (`seq`) REFERENCES `journal`(`seq`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE TABLE `lot` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`acquired_on` text,
	`cost_minor` integer,
	`note` text NOT NULL
) STRICT;

CREATE TABLE `material` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`kind` text NOT NULL,
	`unit` text NOT NULL,
	`pack_millionths` integer NOT NULL,
	`pack_price_minor` integer NOT NULL,
	`supplier` text NOT NULL,
	`lead_days` integer NOT NULL,
	`shelf_life_days` integer,
	`sheet_height_um` integer,
	`sheet_width_um` integer,
	`grain` text,
	`caliper_um` integer,
	`colour` text NOT NULL,
	`place` text NOT NULL,
	`note` text NOT NULL
) STRICT;

CREATE TABLE `movement` (
	`id` text PRIMARY KEY NOT NULL,
	`material_id` text NOT NULL,
	`kind` text NOT NULL,
	`quantity_millionths` integer NOT NULL,
	`at` integer NOT NULL,
	`reason` text NOT NULL,
	`book_id` text,
	`course_id` text,
	FOREIGN KEY (`material_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `movement_material` ON `movement` (`material_id`,`at`);
CREATE INDEX `movement_book` ON `movement` (`book_id`);
CREATE INDEX `movement_course` ON `movement` (`course_id`);
CREATE TABLE `person` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`name` text NOT NULL,
	`level` text NOT NULL,
	`standing` text NOT NULL,
	`wishes` text NOT NULL,
	`allergies` text NOT NULL,
	`diet` text NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `person_course` ON `person` (`course_id`);
CREATE TABLE `piece` (
	`id` text PRIMARY KEY NOT NULL,
	`donor_book_id` text,
	`kind` text NOT NULL,
	`height_um` integer NOT NULL,
	`width_um` integer NOT NULL,
	`grain` text,
	`colour` text NOT NULL,
	`lab` text,
	`pattern` text,
	`year_from` integer,
	`year_to` integer,
	`place` text NOT NULL,
	`note` text NOT NULL,
	`reserved_book_id` text,
	FOREIGN KEY (`donor_book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`reserved_book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `piece_donor` ON `piece` (`donor_book_id`);
CREATE INDEX `piece_reserved` ON `piece` (`reserved_book_id`);
CREATE TABLE `place` (
	`id` text PRIMARY KEY NOT NULL,
	`parent_id` text,
	`name` text NOT NULL
) STRICT;

CREATE TABLE `plan` (
	`id` text PRIMARY KEY NOT NULL,
	`kind` text NOT NULL,
	`course_id` text,
	`starts_on` text NOT NULL,
	`made_at` integer NOT NULL,
	`seed` integer NOT NULL,
	`quality` text NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `plan_starts` ON `plan` (`kind`,`starts_on`);
CREATE INDEX `plan_course` ON `plan` (`course_id`);
CREATE TABLE `plan_task` (
	`id` text PRIMARY KEY NOT NULL,
	`plan_id` text NOT NULL,
	`book_id` text,
	`person_id` text,
	`operation_id` text,
	`position` integer NOT NULL,
	`label` text NOT NULL,
	`kind` text NOT NULL,
	`start_at` integer NOT NULL,
	`end_at` integer NOT NULL,
	`held_until` integer,
	`tools` text NOT NULL,
	`waits_for` text NOT NULL,
	`state` text NOT NULL,
	`started_at` integer,
	`finished_at` integer,
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `plan_task_plan` ON `plan_task` (`plan_id`,`start_at`);
CREATE INDEX `plan_task_book` ON `plan_task` (`book_id`);
CREATE INDEX `plan_task_person` ON `plan_task` (`person_id`);
CREATE INDEX `plan_task_times` ON `plan_task` (`kind`,`start_at`);
CREATE TABLE `syllabus_item` (
	`id` text PRIMARY KEY NOT NULL,
	`course_id` text NOT NULL,
	`operation_id` text NOT NULL,
	`required` integer NOT NULL,
	`demonstration_minutes` integer NOT NULL,
	`position` integer NOT NULL,
	FOREIGN KEY (`course_id`) REFERENCES `course`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE UNIQUE INDEX `syllabus_course_operation` ON `syllabus_item` (`course_id`,`operation_id`);
CREATE TABLE `tool` (
	`id` text PRIMARY KEY NOT NULL,
	`kind` text NOT NULL,
	`name` text NOT NULL,
	`capacity` integer NOT NULL,
	`note` text NOT NULL
) STRICT;

CREATE TABLE `treatment` (
	`id` text PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	`agreed_at` integer NOT NULL,
	`steps` text NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;

CREATE INDEX `treatment_book` ON `treatment` (`book_id`);
CREATE TABLE `workshop` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`time_zone` text NOT NULL,
	`currency` text NOT NULL,
	`units` text NOT NULL,
	`week_hours` text NOT NULL,
	`days_off` text NOT NULL,
	`weights` text NOT NULL,
	`hourly_rate_minor` integer NOT NULL,
	`is_demo` integer NOT NULL,
	`created_at` integer NOT NULL
) STRICT;

-- What a person types is looked up here, by the beginnings of words, accents aside. The index holds no text of its own; it knows books by
-- book_number, because a table with a text key may be given other rowids when the file is compacted.
-- Whoever rebuilds the table `book` must make these three triggers again: dropping a table drops its triggers.
CREATE VIRTUAL TABLE `book_search` USING fts5(
	shelf_mark, title, author, imprint, date_text, format, binding, colour, pattern, note,
	content='', contentless_delete=1, tokenize='unicode61 remove_diacritics 2', prefix='1 2 3'
);

CREATE TRIGGER `book_search_insert` AFTER INSERT ON `book` BEGIN
	INSERT INTO `book_number` (`book_id`) VALUES (new.id);
	INSERT INTO `book_search` (rowid, shelf_mark, title, author, imprint, date_text, format, binding, colour, pattern, note)
		SELECT `number`, new.shelf_mark, new.title, new.author, new.imprint, new.date_text, new.format, new.binding, new.colour, new.pattern, new.note FROM `book_number` WHERE `book_id` = new.id;
END;

CREATE TRIGGER `book_search_update` AFTER UPDATE OF shelf_mark, title, author, imprint, date_text, format, binding, colour, pattern, note ON `book` BEGIN
	INSERT OR REPLACE INTO `book_search` (rowid, shelf_mark, title, author, imprint, date_text, format, binding, colour, pattern, note)
		SELECT `number`, new.shelf_mark, new.title, new.author, new.imprint, new.date_text, new.format, new.binding, new.colour, new.pattern, new.note FROM `book_number` WHERE `book_id` = new.id;
END;

CREATE TRIGGER `book_search_remove` BEFORE DELETE ON `book` BEGIN
	DELETE FROM `book_search` WHERE rowid = (SELECT `number` FROM `book_number` WHERE `book_id` = old.id);
	DELETE FROM `book_number` WHERE `book_id` = old.id;
END;
