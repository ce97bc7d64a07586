-- Lots of the cupboard, steps whose materials are booked out, corrections of the day-book, suppliers, prices, substitutes and what is made here.
CREATE TABLE `ingredient` (
	`id` text PRIMARY KEY NOT NULL,
	`recipe_id` text NOT NULL,
	`material_id` text NOT NULL,
	`quantity_millionths` integer NOT NULL,
	FOREIGN KEY (`recipe_id`) REFERENCES `recipe`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`material_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `ingredient_pair` ON `ingredient` (`recipe_id`,`material_id`);
CREATE INDEX `ingredient_of` ON `ingredient` (`material_id`);
CREATE TABLE `price_quote` (
	`id` text PRIMARY KEY NOT NULL,
	`material_id` text NOT NULL,
	`quoted_on` text NOT NULL,
	`pack_millionths` integer NOT NULL,
	`pack_price_minor` integer NOT NULL,
	`supplier` text NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`material_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE INDEX `price_quote_material` ON `price_quote` (`material_id`,`quoted_on`);
CREATE TABLE `recipe` (
	`id` text PRIMARY KEY NOT NULL,
	`material_id` text NOT NULL,
	`yield_millionths` integer NOT NULL,
	`keeps_days` integer NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`material_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `recipe_material` ON `recipe` (`material_id`);
CREATE TABLE `substitute` (
	`id` text PRIMARY KEY NOT NULL,
	`material_id` text NOT NULL,
	`substitute_id` text NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`material_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`substitute_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `substitute_pair` ON `substitute` (`material_id`,`substitute_id`);
CREATE INDEX `substitute_of` ON `substitute` (`substitute_id`);
CREATE TABLE `supplier` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`postage_minor` integer NOT NULL,
	`free_from_minor` integer,
	`minimum_minor` integer NOT NULL,
	`lead_days` integer,
	`note` text NOT NULL
) STRICT;
CREATE UNIQUE INDEX `supplier_name` ON `supplier` (`name`);
CREATE TABLE `booking` (
	`id` text PRIMARY KEY NOT NULL,
	`book_id` text NOT NULL,
	`operation_id` text NOT NULL,
	`finished_at` integer NOT NULL,
	`at` integer NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`book_id`) REFERENCES `book`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE UNIQUE INDEX `booking_step` ON `booking` (`book_id`,`operation_id`,`finished_at`);
CREATE TABLE `stock_lot` (
	`id` text PRIMARY KEY NOT NULL,
	`material_id` text NOT NULL,
	`received_on` text NOT NULL,
	`best_before` text,
	`supplier` text NOT NULL,
	`cost_minor` integer,
	`number` text NOT NULL,
	`note` text NOT NULL,
	FOREIGN KEY (`material_id`) REFERENCES `material`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
CREATE INDEX `stock_lot_material` ON `stock_lot` (`material_id`,`received_on`);
ALTER TABLE `entry` ADD `answers` text REFERENCES entry(id);
CREATE UNIQUE INDEX `entry_answers` ON `entry` (`answers`);
ALTER TABLE `material` ADD `hazard_sheet` text DEFAULT '' NOT NULL;
ALTER TABLE `movement` ADD `lot_id` text REFERENCES stock_lot(id);
ALTER TABLE `movement` ADD `booking_id` text REFERENCES booking(id);
ALTER TABLE `movement` ADD `made_lot_id` text REFERENCES stock_lot(id);
CREATE INDEX `movement_lot` ON `movement` (`lot_id`);
CREATE INDEX `movement_booking` ON `movement` (`booking_id`);
CREATE INDEX `movement_made` ON `movement` (`made_lot_id`);
