// A value chosen from a few, said like a figure.

interface Props<K extends string> {
  label: string
  /** Null: several values at once. */
  value: K | null
  options: readonly (readonly [K, string])[]
  onChange: (value: K) => void
}

export function Choose<K extends string>({ label, value, options, onChange }: Props<K>) {
  return (
    <label className="figure">
      <span>{label}</span>
      <select
        className={value === null ? 'mixed' : ''}
        value={value ?? ''}
        onChange={event => onChange(event.target.value as K)}
      >
        {value === null && (
          <option value="" disabled>
            mixed
          </option>
        )}
        {options.map(([key, says]) => (
          <option key={key} value={key}>
            {says}
          </option>
        ))}
      </select>
    </label>
  )
}
