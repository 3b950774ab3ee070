/** A headless Chromium (Debian's) driven through playwright-core: the judge of pages and tracks. */
import { chromium, type Browser } from 'playwright-core';

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
