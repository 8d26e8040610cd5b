// Tries to get entries into the builder's record from outside its pages, in one browser, from disk: a page beside the
// manual that opens it, or puts it into a frame, and sends it messages; messages whose sender is gone; scripts and
// addresses that the pages' own policy forbids. Then a record from a machine whose clock is years ahead.
//
// Usage: NODE_PATH=... node trust.cjs FOLDER SCRATCH chromium|firefox EXECUTABLE
// FOLDER holds START-HERE.html. SCRATCH is an empty folder. Prints what was tried; ends with 1 where a check failed.
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");
const { pathToFileURL } = require("url");

const [folder, scratch, kind, executable] = process.argv.slice(2);
const address = (...parts) => pathToFileURL(path.join(...parts.map((part, at) => (at ? part : path.resolve(part))))).href;
const window = {};
// eslint-disable-next-line no-new-func
new Function("window", fs.readFileSync(path.join(folder, "manual/data.js"), "utf8"))(window);
const data = window.kitwright;
const step = data.pages.find((page) => page.s);
const shell = address(folder, "manual/index.html");
const { until, wait, quote } = require("./browsers.cjs")(kind, executable, scratch);

async function chromium(profile) {
  const { chromium: browser } = require("playwright-core");
  const context = await browser.launchPersistentContext(profile, {
    executablePath: executable, headless: true, viewport: { width: 1000, height: 900 },
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync"],
  });
  const page = context.pages()[0] || await context.newPage();
  page.on("dialog", (dialog) => dialog.accept().catch(() => {}));
  let here = page.mainFrame();
  return {
    open: async (url) => { await page.goto(url); here = page.mainFrame(); },
    top: async () => { here = page.mainFrame(); },
    frame: async () => { here = await (await page.waitForSelector("iframe.frame")).contentFrame(); },
    click: (selector) => here.click(selector, { timeout: 30000 }),
    choose: (selector, file) => here.setInputFiles(selector, file),
    run: (script) => here.evaluate(`(${script})`),
    close: () => context.close(),
  };
}

const firefox = (profile) => require("./firefox.cjs").launch(executable, profile, { "dom.disable_open_during_load": false }, { width: 1000, height: 900 });

const forged = `{ say: "set", step: ${quote(step.s)}, digest: ${quote(step.d)}, kind: "note", item: "", value: "FORGED" }`;

// The page beside the manual. It sends with every mark that it can guess.
function stranger(name, begin) {
  const file = path.join(path.resolve(scratch), name);
  fs.writeFileSync(file, `<!DOCTYPE html><meta charset="utf-8"><title>Stranger</title><button id="go">Go</button><script>
    var sent = 0;
    function send(to) {
      [1, "", "kitwright-", "kitwright-00000000000000000000000000000000", window.name, null, undefined, true].forEach(function (mark) {
        var m = ${forged};
        m.kitwright = mark;
        try { to.postMessage(m, "*"); sent += 1; } catch (e) { /* It may not. */ }
        try { for (var i = 0; i < to.length; i += 1) { to[i].postMessage(m, "*"); } } catch (e) { /* It may not. */ }
      });
    }
    ${begin}
  </script>`);
  return address(file);
}

async function entries(browser) {
  await browser.open(shell);
  await until(browser, `document.body.className.indexOf("shell") > 0`, "the shell");
  return browser.run(`JSON.stringify(localStorage)`);
}

async function main() {
  const browser = await (kind === "firefox" ? firefox : chromium)(path.join(path.resolve(scratch), `profile-${kind}`));
  try {
    const there = `${shell}#${step.f}`;
    // It opens the manual at a step and speaks to the window and to the frame in it.
    await browser.open(stranger("opens.html", `
      document.getElementById("go").onclick = function () {
        var other = window.open(${quote(there)}), turns = 0;
        var timer = setInterval(function () {
          send(other);
          turns += 1;
          if (turns === 20) { clearInterval(timer); other.close(); document.title = "Sent " + sent; }
        }, 200);
      };`));
    await browser.click("#go");
    await until(browser, `/^Sent \\d\\d/.test(document.title)`, "messages were sent to the window");
    // It holds the manual in a frame.
    await browser.open(stranger("holds.html", `
      var held = document.createElement("iframe"), turns = 0;
      held.src = ${quote(there)};
      document.body.appendChild(held);
      var timer = setInterval(function () {
        send(held.contentWindow);
        turns += 1;
        if (turns === 15) { clearInterval(timer); document.title = "Sent " + sent; }
      }, 200);`));
    await until(browser, `/^Sent \\d\\d/.test(document.title)`, "messages were sent to the frame");
    // It holds a page of a step and plays the shell.
    await browser.open(stranger("plays.html", `
      var held = document.createElement("iframe"), heard = 0;
      held.name = "kitwright-1";
      held.src = ${quote(address(folder, "manual", step.f))};
      document.body.appendChild(held);
      window.addEventListener("message", function () { heard += 1; });
      setTimeout(function () { document.title = "Heard " + heard; }, 3000);`));
    await until(browser, `document.title === "Heard 0"`, "a page tells a stranger nothing");
    assert(!(await entries(browser)).includes("FORGED"), "an entry was forged");

    // Messages that seem to come from a page that has gone, or from the window itself.
    await browser.open(there);
    await browser.frame();
    await until(browser, `!!document.querySelector("#_done")`, "the step opens");
    await browser.top();
    for (const mark of [1, "", "kitwright-", "kitwright-00000000000000000000000000000000"]) {
      await browser.run(`(function () {
        var m = ${forged};
        m.kitwright = ${quote(mark)};
        ["null", "file://", "", "https://example.org"].forEach(function (origin) {
          window.dispatchEvent(new MessageEvent("message", { data: m, origin: origin, source: null }));
        });
        window.postMessage(m, "*");
        return true;
      })()`);
    }
    await wait(500);
    assert(!(await browser.run(`JSON.stringify(localStorage)`)).includes("FORGED"), "an entry was forged by nobody");

    // What the pages' policy forbids, in the shell and in its frame.
    for (const place of ["top", "frame"]) {
      await browser[place]();
      await browser.run(`(function () {
        window.broken = [];
        document.addEventListener("securitypolicyviolation", function (e) { window.broken.push(e.effectiveDirective || e.violatedDirective); });
        var script = document.createElement("script");
        script.textContent = "window.ran = true";
        document.body.appendChild(script);
        new Image().src = "http://127.0.0.1:61234/picture.png";
        var base = document.createElement("base");
        base.href = "http://127.0.0.1:61234/";
        document.head.appendChild(base);
        var frame = document.createElement("iframe");
        frame.src = "http://127.0.0.1:61234/";
        document.body.appendChild(frame);
        return true;
      })()`);
      await until(browser, `["script-src", "img-src", "base-uri", "frame-src"].every(function (d) { return window.broken.some(function (b) { return b.indexOf(d) === 0; }); })`, `the policy of the ${place}`);
      assert.strictEqual(await browser.run(`window.ran === undefined && document.baseURI.indexOf("file:") === 0`), true);
    }

    // A true entry still gets there: the check could see one.
    await browser.open(there);
    await browser.frame();
    await until(browser, `!!document.querySelector("#_done")`, "the step opens");
    await browser.click("#_done");
    await until(browser, `/^Done 20/.test(document.querySelector(".changed").textContent)`, "done");
    await browser.top();
    assert((await browser.run(`JSON.stringify(localStorage)`)).includes("| done |"), "a true entry is kept");

    // A record from a machine whose clock is far ahead.
    const lines = ["Build record. Open it in the manual: Menu, Record, Open a file.", `manual | ${data.manual}`, `configuration | ${data.configuration}`,
      "kit | ", `release | ${data.release}`, `2099-01-01 10:00:00 | set | ${step.s} | ${step.d} | note |  | from the future`, "end | 1"];
    const file = path.join(path.resolve(scratch), `ahead-${kind}.txt`);
    fs.writeFileSync(file, `${lines.join("\n")}\n`);
    await browser.open(`${shell}#_record`);
    await until(browser, `!!document.querySelector("#_file")`, "the record");
    await browser.choose("#_file", file);
    await until(browser, `/1 entry is dated after today by the clock of this machine, the last 2099-01-01/.test(document.querySelector(".import-said").textContent)`, "it is told");
    await browser.open(there);
    await browser.frame();
    await until(browser, `document.querySelector("#_notes") && document.querySelector("#_notes").value === "from the future"`, "the note came in");
    await browser.click("#_done");
    await browser.top();
    const year = new Date().getFullYear();
    await until(browser, `(function () {
      var all = JSON.stringify(localStorage), last = all.slice(all.lastIndexOf("| done |") - 200, all.lastIndexOf("| done |"));
      return /(\\d{4})-\\d\\d-\\d\\d [\\d:]+ \\| set \\| [^|]* \\| [^|]* $/.exec(last)[1] === "${year}";
    })()`, "what is done afterwards has today's date");
  } finally {
    await browser.close();
  }
  console.log(`${kind}: strangers, ghosts and policies: nothing was forged; a clock ahead moves nothing`);
}

main().catch((error) => { console.error(error.stack); process.exit(1); });
