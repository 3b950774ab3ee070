export * from './problems.js';
