'use strict';
// The worker's life: begun with the page, one work at a time, ended and begun anew to stop or after a fault.

// Text of base 85, as cmake/base85.mjs writes it.
const DIGITS =
    '!#%()*+,-./0123456789:=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ^_`abcdefghijklmnopqrstuvwxyz{|}~';
function bytesOf85(text) {
  const bytes = new Uint8Array(Math.floor(text.length * 4 / 5)), digit = [];
  for (let i = 0; i < 85; ++i) digit[DIGITS.charCodeAt(i)] = i;
  for (let at = 0, to = 0; at < text.length; at += 5) {
    let value = 0; // a last, shorter group is filled up from above, so that its own bytes are whole
    for (let i = at; i < at + 5; ++i)
      value = value * 85 + (i < text.length ? digit[text.charCodeAt(i)] : 84);
    for (let power = 2 ** 24; power >= 1 && to < bytes.length; power /= 256)
      bytes[to++] = value / power;
  }
  return bytes;
}

async function unpacked(id) {
  const packed = bytesOf85(document.getElementById(id).textContent);
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

const makeWork = (told) => {
  let worker = null, ready = null, parts = null;
  let done = null; // of the work that is asked for
  const end = () => {
    if (worker) worker.terminate();
    worker = null;
    begin();
  };
  // After a fault nothing in the module can be relied upon; after an answer its files are of no use.
  const finish = (data) => {
    const tell = done;
    done = null;
    end();
    if (tell) tell(data);
  };
  const begin = () => {
    ready = (async () => {
      parts = parts || Promise.all([unpacked('packed-module'), unpacked('packed-worker')]);
      const [wasm, script] = await parts;
      const url = URL.createObjectURL(new Blob([script], {type: 'text/javascript'}));
      const mine = worker = new Worker(url);
      await new Promise((good, bad) => {
        let begun = false;
        const failed = (text) => {
          if (mine !== worker) return;
          if (begun) finish({fault: text});
          else bad(new Error(text));
        };
        mine.onerror = (event) => {
          event.preventDefault();
          failed(event.message || 'the worker failed');
        };
        mine.onmessage = ({data}) => {
          if (mine !== worker) return;
          if (data.ready) begun = true, good();
          else if (data.stage !== undefined) told(data.stage, data.fraction);
          else if (data.fault !== undefined) failed(data.fault);
          else finish(data);
        };
        mine.postMessage({module: wasm});
      });
      URL.revokeObjectURL(url);
    })();
    ready.catch(() => {});
  };
  begin();
  return {
    // {answer, job, seconds, heap}, {fault} or {stopped}.
    run: (message, bytes) => new Promise((tell) => {
      done = tell;
      ready
          .then(() => {
            if (done === tell) worker.postMessage(message, bytes);
          })
          .catch((fault) => {
            if (done === tell) finish({fault: String(fault.message || fault)});
          });
    }),
    stop() { finish({stopped: true}); },
    get busy() { return done !== null; },
    ready: () => ready,
  };
};
