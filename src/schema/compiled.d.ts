/** What scripts/schemas.mjs compiles: a check a schema, which leaves what it found in `errors`, and the keys at its top. */

/** One finding, in ajv's words; `parentSchema` is the part of the schema that found it, `data` the value it found. */
export interface SchemaError {
  readonly instancePath: string;
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
  readonly parentSchema: Readonly<Record<string, unknown>>;
  readonly data: unknown;
}

export interface SchemaCheck {
  (value: unknown): boolean;
  errors?: readonly SchemaError[] | null;
}

export const validateShow: SchemaCheck;
export const validateMapping: SchemaCheck;
export const SHOW_KEYS: readonly string[];
export const MAPPING_KEYS: readonly string[];
