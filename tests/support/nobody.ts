/** As root, permissions mean nothing: what is about them is run as somebody else. */

/** Runs something as a user who may not read everything: who is not root stays who he is. Code that it loads has to be loaded before. */
export async function asNobody<T>(use: () => Promise<T>): Promise<T> {
  if (process.geteuid?.() !== 0) return use();
  process.seteuid?.(65_534);
  try {
    return await use();
  } finally {
    process.seteuid?.(0);
  }
}
