// Two browsers behind the same few acts, for what uses a manual as a builder would.
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");

const quote = JSON.stringify;
const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

// `kind` is chromium or firefox; what is saved goes to the folder `downloads`.
module.exports = (kind, executable, downloads) => {
  // Both drivers offer the same few acts.
  async function chromium(profile, refused) {
    const { chromium: browser } = require("playwright-core");
    const context = await browser.launchPersistentContext(profile, {
      executablePath: executable, headless: true, acceptDownloads: true, viewport: { width: 1000, height: 900 },
      args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync"],
    });
    const page = context.pages()[0] || await context.newPage();
    const asked = [];
    page.on("request", (request) => { if (!/^(file|data|blob):/.test(request.url())) asked.push(request.url()); });
    page.on("pageerror", (error) => { throw error; });
    page.on("dialog", (dialog) => dialog.accept().catch(() => {}));
    page.on("download", async (download) => download.saveAs(path.join(downloads, download.suggestedFilename())));
    if (refused) {
      await page.addInitScript(() => Object.defineProperty(window, "localStorage", { get() { throw new Error("refused"); } }));
    }
    let here = page.mainFrame();
    return {
      open: async (url) => { await page.goto(url); here = page.mainFrame(); },
      reload: async () => { await page.reload(); here = page.mainFrame(); },
      top: async () => { here = page.mainFrame(); },
      frame: async () => { here = await (await page.waitForSelector("iframe.frame")).contentFrame(); },
      click: (selector) => here.click(selector, { timeout: 30000 }),
      type: async (selector, text) => { await here.fill(selector, text); await here.evaluate("document.activeElement.blur()"); },
      choose: (selector, file) => here.setInputFiles(selector, file),
      run: (script) => here.evaluate(`(${script})`),
      pdf: () => page.pdf(),
      picture: (file) => page.screenshot({ path: file }),
      close: async () => { assert.deepStrictEqual(asked, [], "requests to a network"); await context.close(); },
    };
  }

  function firefox(profile, refused) {
    const preferences = {
      "browser.download.folderList": 2, "browser.download.dir": downloads,
      "browser.helperApps.neverAsk.saveToDisk": "text/plain", "browser.download.useDownloadDir": true,
      ...(refused ? { "dom.storage.enabled": false } : {}),
    };
    return require("./firefox.cjs").launch(executable, profile, preferences, { width: 1000, height: 900 });
  }

  const start = kind === "firefox" ? firefox : chromium;

  // Waits until a script gives something true.
  async function until(browser, script, what) {
    let last;
    for (let turn = 0; turn < 300; turn += 1) {
      try { last = await browser.run(script); } catch (error) { last = error.message; }
      if (last === true) return;
      await wait(100);
    }
    throw new Error(`${what}: ${script} gives ${JSON.stringify(last)}`);
  }

  // Looks into the shell's frame once it shows the page, whole: right after a click or a change of address it may
  // still hold the page before, with the same fields.
  async function shown(browser, file) {
    await browser.frame();
    await until(browser, `location.pathname.slice(${quote(`/${file}`)}.length * -1) === ${quote(`/${file}`)} && document.readyState === "complete"`, `${file} in the frame`);
  }

  // Ticks every point of a hold that is open.
  async function inspect(browser) {
    await browser.run(`(Array.prototype.forEach.call(document.querySelectorAll(".group-inspect .tick-target input"), function (box) { if (!box.checked) { box.click(); } }), true)`);
  }

  // The record that was saved to a file.
  async function saved() {
    for (let turn = 0; turn < 80; turn += 1) {
      const file = fs.readdirSync(downloads).find((name) => /^record-.*\.txt$/.test(name));
      if (file && fs.statSync(path.join(downloads, file)).size > 0) return path.join(downloads, file);
      await wait(100);
    }
    throw new Error("no record was saved");
  }

  // Opens a record in the manual whose first page is at `home`; what is said of it.
  async function offer(browser, home, file, words) {
    fs.writeFileSync(file, words);
    await browser.top();
    await browser.open(home);
    await browser.open(`${home}#_record`);
    await until(browser, `!!document.querySelector("#_file")`, "the record's panel");
    await browser.choose("#_file", path.resolve(file));
    const said = `(document.querySelector(".import-said") || {}).textContent`;
    await until(browser, `!!${said}`, `${file}: an answer`);
    return browser.run(said);
  }

  return { start, until, shown, wait, quote, inspect, saved, offer };
};
