import './style/base.css';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';

// The workbench. What it needs of the world beside the page comes from the server that serves it.

const host = document.getElementById('workbench');
if (host !== null) createRoot(host).render(<App />);
