// A choice from a list, with its label over it.

interface Props<T extends string> {
  label: string
  value: T
  options: readonly (readonly [value: T, says: string])[]
  /** The label is not seen: it stands at the head of a table. */
  bare?: boolean
  onChange: (value: T) => unknown
}

export function Pick<T extends string>({ label, value, options, bare, onChange }: Props<T>) {
  return (
    <label className={bare ? 'field bare' : 'field'}>
      <span className={bare ? 'sr' : undefined}>{label}</span>
      <select aria-label={label} value={value} onChange={event => onChange(event.target.value as T)}>
        {options.map(([option, says]) => (
          <option key={option} value={option}>
            {says}
          </option>
        ))}
      </select>
    </label>
  )
}
