/** Error numbers of WASI. */
const badDescriptor = 8;
const notSupported = 58;

/** Standard output and standard error, both of which the console shows line by line. */
const descriptors = [1, 2];

/**
 * host returns the functions of WASI preview 1 that a Go program calls. They
 * give it a clock, random numbers and the console, but no files, no arguments
 * and no environment.
 *
 * @param {Crypto} crypto gives the random numbers
 * @param {() => WebAssembly.Memory} memory
 * @param {(status: number) => void} exit is called when the program ends
 */
export function host(crypto, memory, exit) {
  const view = () => new DataView(memory().buffer);
  const lines = ['', ''];
  const decoders = [new TextDecoder(), new TextDecoder()];
  const none = (countAt, sizeAt) => {
    view().setUint32(countAt, 0, true);
    view().setUint32(sizeAt, 0, true);
    return 0;
  };
  const now = (clock) => BigInt(Math.round((clock === 0 ? Date.now() : performance.now()) * 1e6));
  return {
    args_sizes_get: none,
    args_get: () => 0,
    environ_sizes_get: none,
    environ_get: () => 0,
    clock_time_get(clock, _precision, at) {
      view().setBigUint64(at, now(clock), true);
      return 0;
    },
    random_get(at, size) {
      const most = 65536; // that crypto gives at once
      for (let done = 0; done < size; done += most) {
        crypto.getRandomValues(new Uint8Array(memory().buffer, at + done, Math.min(most, size - done)));
      }
      return 0;
    },
    fd_write(descriptor, parts, count, writtenAt) {
      const i = descriptors.indexOf(descriptor);
      if (i < 0) return badDescriptor;
      let written = 0;
      for (let part = parts; part < parts + 8 * count; part += 8) {
        const size = view().getUint32(part + 4, true);
        const text = new Uint8Array(memory().buffer, view().getUint32(part, true), size);
        lines[i] += decoders[i].decode(text, { stream: true });
        written += size;
      }
      const whole = lines[i].split('\n');
      lines[i] = whole.pop();
      for (const line of whole) console.error(line);
      view().setUint32(writtenAt, written, true);
      return 0;
    },
    fd_fdstat_get(descriptor, at) {
      if (descriptor > 2) return badDescriptor;
      new Uint8Array(memory().buffer, at, 24).fill(0);
      view().setUint8(at, 2); // a character device
      return 0;
    },
    fd_read: () => badDescriptor,
    fd_close: () => badDescriptor,
    fd_fdstat_set_flags: () => badDescriptor,
    fd_prestat_get: () => badDescriptor,
    fd_prestat_dir_name: () => badDescriptor,
    sched_yield: () => 0,
    // The Go scheduler sleeps here where nothing else is to be done. It asks for one clock, and for nothing
    // of files.
    poll_oneoff(subscriptions, events, count, countAt) {
      if (count !== 1 || view().getUint8(subscriptions + 8) !== 0) return notSupported;
      const clock = view().getUint32(subscriptions + 16, true);
      const absolute = view().getUint16(subscriptions + 40, true) & 1;
      const until = view().getBigUint64(subscriptions + 24, true) + (absolute ? 0n : now(clock));
      while (now(clock) < until); // a page may not wait otherwise
      new Uint8Array(memory().buffer, events, 32).fill(0);
      view().setBigUint64(events, view().getBigUint64(subscriptions, true), true);
      view().setUint32(countAt, 1, true);
      return 0;
    },
    proc_exit: exit,
  };
}
