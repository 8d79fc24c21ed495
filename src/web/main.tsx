import { createRoot } from 'react-dom/client';

const host = document.getElementById('workbench');
if (host !== null) createRoot(host).render(<p>Tuneladder</p>);
