/** A sum that cannot be done: the same codes as the server's, one sentence per code in words/. */
export class Refusal extends Error {
  override readonly name = "Refusal";
  constructor(
    readonly code: string,
    readonly fields: Readonly<Record<string, string>> = {},
  ) {
    super(code);
  }
}
