// A language client over stdio with next to no cost of its own.
import { spawn } from 'node:child_process';

export const sleep = (ms) => new Promise((done) => setTimeout(done, ms));

export class Client {
  #pending = new Map();
  #next = 1;
  #chunks = [];
  #size = 0;
  #wanted = undefined;
  #answer;
  ended = undefined;
  errors = '';

  /** `answer(method, params)` replies to what the server asks. */
  constructor(command, folder, answer) {
    this.#answer = answer;
    this.process = spawn(command[0], command.slice(1), { cwd: folder, stdio: 'pipe' });
    this.process.stdin.on('error', () => {});
    this.process.stdout.on('data', (data) => this.#feed(data));
    this.process.stderr.on('data', (data) => {
      if (this.errors.length < 2000) this.errors += data;
    });
    this.process.on('exit', (code, signal) => {
      this.ended = `the server ended with ${code ?? signal}`;
      for (const { reject } of this.#pending.values()) reject(new Error(this.ended));
      this.#pending.clear();
    });
  }

  notify(method, params) {
    this.#write({ method, params });
  }

  /** The result and the time it came in. `promise.id` cancels. */
  request(method, params, timeout = 15_000) {
    const id = this.#next++;
    const promise = new Promise((resolve, reject) => {
      if (this.ended) return reject(new Error(this.ended));
      const timer = setTimeout(() => {
        this.#pending.delete(id);
        this.cancel(id);
        reject(new Error(`no answer to ${method} within ${timeout} ms`));
      }, timeout);
      const settle = (then) => (value) => {
        clearTimeout(timer);
        then(value);
      };
      this.#pending.set(id, { resolve: settle(resolve), reject: settle(reject) });
    });
    this.#write({ id, method, params });
    return Object.assign(promise, { id });
  }

  cancel(id) {
    this.notify('$/cancelRequest', { id });
  }

  #write(message) {
    if (this.ended) return;
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }));
    this.process.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
    this.process.stdin.write(body);
  }

  #feed(data) {
    const at = performance.now();
    this.#chunks.push(data);
    this.#size += data.length;
    while (this.#size > 0) {
      if (!this.#wanted) {
        this.#chunks = [Buffer.concat(this.#chunks)];
        const end = this.#chunks[0].indexOf('\r\n\r\n');
        if (end < 0) return;
        const length = Number(/Content-Length: (\d+)/i.exec(this.#chunks[0].toString('latin1', 0, end))[1]);
        this.#wanted = { from: end + 4, to: end + 4 + length };
      }
      const { from, to } = this.#wanted;
      if (this.#size < to) return;
      const all = Buffer.concat(this.#chunks);
      this.#chunks = [all.subarray(to)];
      this.#size = all.length - to;
      this.#wanted = undefined;
      this.#take(JSON.parse(all.toString('utf8', from, to)), at);
    }
  }

  #take(message, at) {
    if (message.method) {
      if (message.id !== undefined)
        this.#write({ id: message.id, result: this.#answer(message.method, message.params) ?? null });
      return;
    }
    const waiting = this.#pending.get(message.id);
    this.#pending.delete(message.id);
    if (message.error) waiting?.reject(new Error(message.error.message));
    else waiting?.resolve({ result: message.result, at });
  }
}
