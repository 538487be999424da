// Time and memory of a process and all its children, from /proc (Linux only).
import { readdirSync, readFileSync } from 'node:fs';

/** `read` of every process in the tree, summed; processes that ended meanwhile count nothing. */
function sum(pids, read) {
  let total = 0;
  for (const pid of pids) {
    try {
      total += read(pid);
    } catch {
      // ended
    }
  }
  return total;
}

/** The process and its descendants. */
export function tree(root) {
  const parents = [];
  for (const entry of readdirSync('/proc')) {
    if (!/^\d+$/.test(entry)) continue;
    try {
      const stat = readFileSync(`/proc/${entry}/stat`, 'latin1'); // "pid (name) state ppid …", the name may hold anything
      parents.push([Number(entry), Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1])]);
    } catch {
      // ended
    }
  }
  const all = [root];
  for (const pid of all) all.push(...parents.filter(([, parent]) => parent === pid).map(([child]) => child));
  return all;
}

/** CPU time of all living threads, ms; schedstat counts nanoseconds. */
export const cpu = (pids) =>
  sum(pids, (pid) =>
    readdirSync(`/proc/${pid}/task`).reduce(
      (total, task) =>
        total + Number(readFileSync(`/proc/${pid}/task/${task}/schedstat`, 'latin1').split(' ')[0]) / 1e6,
      0,
    ),
  );

/** The most memory each process ever held, MiB. */
export const peak = (pids) =>
  sum(pids, (pid) => Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'latin1'))?.[1] ?? 0) / 1024);
