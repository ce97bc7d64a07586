-- Where a piece came from and where it went, so that cloth can be followed from donor to recipient and back.
ALTER TABLE `piece` ADD COLUMN `from_piece_id` text REFERENCES `piece`(`id`);
ALTER TABLE `piece` ADD COLUMN `material_id` text REFERENCES `material`(`id`);
ALTER TABLE `piece` ADD COLUMN `used_at` integer;
ALTER TABLE `piece` ADD COLUMN `used_book_id` text REFERENCES `book`(`id`);
ALTER TABLE `piece` ADD COLUMN `measured` text DEFAULT '' NOT NULL;
CREATE INDEX `piece_from` ON `piece` (`from_piece_id`);
CREATE INDEX `piece_used` ON `piece` (`used_book_id`);
