#!/usr/bin/env node
// CommonJS (see package.json beside this file): Node starts it sooner than a module.
'use strict';
// All is written by then, at once: nothing is left for Node to wait for, or to clear up.
require('../dist/start.cjs').main(process.argv.slice(2)).then(() => process.exit());
