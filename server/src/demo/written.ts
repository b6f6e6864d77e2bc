// The type of a document as it may be written: whatever its schema fills in can be left out.

export type Written<Schema extends { readonly _zod: { readonly input: unknown } }> = Schema['_zod']['input']
