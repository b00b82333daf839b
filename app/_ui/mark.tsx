/** The product's mark: a plate over its limit bar. */
export function Mark() {
  return (
    <svg viewBox="0 0 30 22" width="30" height="22" aria-hidden="true">
      <rect x="1" y="1" width="28" height="14" rx="2" fill="none" stroke="currentColor" strokeWidth="2" />
      <path d="M6 6h11M6 10h7" stroke="currentColor" strokeWidth="2" />
      <path d="M20.5 5.5h4v5h-4z" fill="none" stroke="currentColor" strokeWidth="1.5" />
      <path d="M1 19.5h28" stroke="currentColor" strokeWidth="1" opacity=".45" />
      <path d="M1 19.5h21" stroke="currentColor" strokeWidth="4" />
      <path d="M24.5 16.8v5.2" stroke="var(--accent)" strokeWidth="2" />
    </svg>
  );
}
