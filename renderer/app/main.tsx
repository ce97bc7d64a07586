import { QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './base.css';
import { Boundary } from './boundary.tsx';
import { Frame } from './frame.tsx';
import { makeQueryClient } from './queries.ts';

const root = document.getElementById('root');
if (root === null) throw new Error('The page has a root.');
createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={makeQueryClient()}>
      <Boundary>
        <Frame />
      </Boundary>
    </QueryClientProvider>
  </StrictMode>,
);
