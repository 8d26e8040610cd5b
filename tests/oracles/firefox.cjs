// A small driver of Firefox ESR over its remote protocol (Marionette, the one that WebDriver uses): JSON over TCP, each
// message `length:[0, id, command, parameters]`.
"use strict";

const fs = require("fs");
const net = require("net");
const path = require("path");
const { spawn } = require("child_process");

const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";

function connect(port, process) {
  const started = Date.now();
  return new Promise((resolve, reject) => {
    const attempt = () => {
      const socket = net.connect(port, "127.0.0.1");
      socket.once("connect", () => resolve(socket));
      socket.once("error", (error) => {
        if (process.exitCode !== null || Date.now() - started > 60000) reject(error);
        else setTimeout(attempt, 200);
      });
    };
    attempt();
  });
}

function freePort() {
  return new Promise((resolve) => {
    const server = net.createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });
}

// Starts the browser with a profile folder of its own, which is kept for a second start.
async function launch(executable, profile, preferences, viewport) {
  const port = await freePort();
  fs.mkdirSync(profile, { recursive: true });
  const prefs = {
    "marionette.port": port,
    "security.fileuri.strict_origin_policy": true,
    "browser.shell.checkDefaultBrowser": false,
    "browser.startup.page": 0,
    "datareporting.policy.dataSubmissionEnabled": false,
    "app.update.auto": false,
    "network.captive-portal-service.enabled": false,
    "network.connectivity-service.enabled": false,
    "browser.aboutwelcome.enabled": false,
    "dom.disable_beforeunload": false,
    ...preferences,
  };
  const lines = Object.entries(prefs).map(([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});`);
  fs.writeFileSync(path.join(profile, "user.js"), lines.join("\n"));
  const child = spawn(executable, ["--headless", "--marionette", "--no-remote", "--profile", profile, `--width=${viewport.width}`, `--height=${viewport.height}`], { stdio: "ignore" });
  const socket = await connect(port, child);
  const waiting = new Map();
  let buffer = Buffer.alloc(0);
  let next = 0;
  socket.on("data", (data) => {
    buffer = Buffer.concat([buffer, data]);
    for (;;) {
      const colon = buffer.indexOf(":");
      if (colon < 0) return;
      const length = Number(buffer.subarray(0, colon).toString());
      if (buffer.length < colon + 1 + length) return;
      const message = JSON.parse(buffer.subarray(colon + 1, colon + 1 + length).toString());
      buffer = buffer.subarray(colon + 1 + length);
      if (!Array.isArray(message)) continue;
      const [, id, error, result] = message;
      const { resolve, reject, command } = waiting.get(id);
      waiting.delete(id);
      if (error) reject(new Error(`${command}: ${error.error}: ${error.message}`));
      else resolve(result);
    }
  });
  const send = (command, parameters) => new Promise((resolve, reject) => {
    next += 1;
    waiting.set(next, { resolve, reject, command });
    const text = JSON.stringify([0, next, command, parameters || {}]);
    socket.write(`${Buffer.byteLength(text)}:${text}`);
  });
  await send("WebDriver:NewSession", { capabilities: { alwaysMatch: { unhandledPromptBehavior: "accept" } } });
  await send("WebDriver:SetTimeouts", { script: 30000, pageLoad: 60000, implicit: 5000 });
  const find = async (selector) => (await send("WebDriver:FindElement", { using: "css selector", value: selector })).value[ELEMENT];
  return {
    open: (url) => send("WebDriver:Navigate", { url }),
    reload: () => send("WebDriver:Refresh"),
    top: () => send("WebDriver:SwitchToFrame", { id: null }),
    async frame() {
      await this.top();
      const element = await find("iframe.frame");
      await send("WebDriver:SwitchToFrame", { element, id: { [ELEMENT]: element } });
    },
    // In the middle of the window, as a reader has it: the driver takes what is in view already, below a bar too.
    async click(selector) {
      await this.run(`(document.querySelector(${JSON.stringify(selector)}).scrollIntoView({ block: "center", behavior: "instant" }), true)`);
      await send("WebDriver:ElementClick", { id: await find(selector) });
    },
    async type(selector, text) {
      const id = await find(selector);
      await send("WebDriver:ElementClear", { id });
      if (text) await send("WebDriver:ElementSendKeys", { id, text });
      await this.run("document.activeElement.blur()");
    },
    choose: async (selector, file) => send("WebDriver:ElementSendKeys", { id: await find(selector), text: file }),
    run: async (script) => (await send("WebDriver:ExecuteScript", { script: `return (${script})`, args: [], sandbox: null })).value,
    pdf: async () => Buffer.from((await send("WebDriver:Print", {})).value, "base64"),
    async picture(file) {
      fs.writeFileSync(file, Buffer.from((await send("WebDriver:TakeScreenshot", { full: false })).value, "base64"));
    },
    async close() {
      const gone = new Promise((resolve) => child.once("exit", resolve));
      await send("Marionette:Quit", { flags: ["eForceQuit"] }).catch(() => {});
      socket.destroy();
      const timer = setTimeout(() => child.kill("SIGKILL"), 10000);
      await gone;
      clearTimeout(timer);
    },
  };
}

module.exports = { launch };
