-- A step that a person pinned to its time, and when it is likely out.
ALTER TABLE `plan_task` ADD COLUMN `pinned_at` integer;
ALTER TABLE `plan_task` ADD COLUMN `p50_at` integer;
ALTER TABLE `plan_task` ADD COLUMN `p80_at` integer;
ALTER TABLE `plan_task` ADD COLUMN `on_time` real;
