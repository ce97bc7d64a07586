-- The workshop's own operations by version, treatments kept under a name, and saved views of the list.
CREATE TABLE `own_operation` (
	`id` text PRIMARY KEY NOT NULL,
	`operation_id` text NOT NULL,
	`version` integer NOT NULL,
	`definition` text NOT NULL,
	`withdrawn` integer NOT NULL,
	`made_at` integer NOT NULL
) STRICT;
CREATE UNIQUE INDEX `own_operation_version` ON `own_operation` (`operation_id`,`version`);
CREATE TABLE `own_treatment` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`operations` text NOT NULL,
	`note` text NOT NULL,
	`made_at` integer NOT NULL
) STRICT;
CREATE UNIQUE INDEX `own_treatment_name` ON `own_treatment` (`name`);
CREATE TABLE `saved_view` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`query` text NOT NULL,
	`columns` text NOT NULL
) STRICT;
CREATE UNIQUE INDEX `saved_view_name` ON `saved_view` (`name`);
