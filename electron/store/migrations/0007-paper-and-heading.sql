-- The paper of everything printed, and the lines under the workshop's name at its head.
ALTER TABLE `workshop` ADD `paper` text DEFAULT 'A4' NOT NULL;
ALTER TABLE `workshop` ADD `heading` text DEFAULT '' NOT NULL;
