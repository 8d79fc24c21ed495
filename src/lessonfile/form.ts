import { z } from 'zod';

// zod would make its readers from text. A page with a strict content policy forbids that, and even the try is reported.
z.config({ jitless: true });

export { z };
