// The examples of the CommonMark specification (npm `commonmark-spec`) as JSON on the output.
"use strict";

const { tests } = require("commonmark-spec");

process.stdout.write(JSON.stringify(tests.map(({ number, section, markdown, html }) => ({ number, section, markdown, html }))));
