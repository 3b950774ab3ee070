#!/usr/bin/env node
// CommonJS (see package.json beside this file): Node starts it sooner than a module.
'use strict';
require('../dist/start.cjs').main(process.argv.slice(2));
