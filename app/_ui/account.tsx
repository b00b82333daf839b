import styles from "./small-parts.module.css";

export interface AccountOfRows {
  readonly rowsRead: number;
  readonly created: number;
  readonly updated: number;
  readonly unchanged: number;
  readonly setAside: number;
}

/** Figures with a thin grouping of thousands, the same everywhere. */
export function figures(value: number): string {
  return value.toLocaleString("en-US");
}

/** The account of an import as an equation: read = created + updated + unchanged + set aside. */
export function Account({ account }: { account: AccountOfRows }) {
  const parts = [
    { label: "rows read", value: account.rowsRead, sign: "" },
    { label: "created", value: account.created, sign: "=" },
    { label: "updated", value: account.updated, sign: "+" },
    { label: "unchanged", value: account.unchanged, sign: "+" },
    { label: "set aside", value: account.setAside, sign: "+" },
  ];
  return (
    <dl className={styles.account}>
      {parts.map(({ label, value, sign }) => (
        <div key={label} data-sign={sign}>
          <dt>{label}</dt>
          <dd>{figures(value)}</dd>
        </div>
      ))}
    </dl>
  );
}
