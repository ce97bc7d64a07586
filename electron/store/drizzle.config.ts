import { defineConfig } from 'drizzle-kit';

// Drafts only. The draft is read, made STRICT and renamed by hand; migrate.ts applies it. See DEVELOPERS.md.
export default defineConfig({
  dialect: 'sqlite',
  schema: './electron/store/schema*.ts',
  out: './electron/store/migrations',
});
