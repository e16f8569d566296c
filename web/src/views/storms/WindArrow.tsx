/** A small compass with an arrow that flies with the wind. The words beside it say the same. */
export function WindArrow({ from_deg, size = 44 }: { from_deg: number | null; size?: number }) {
  return (
    <svg class="wind-arrow" viewBox="-24 -24 48 48" width={size} height={size} aria-hidden="true">
      <circle r="21" fill="var(--paper)" stroke="var(--edge)" stroke-width="1.5" stroke-dasharray={from_deg === null ? "3 3" : undefined} />
      <path d="M0-21v5M21 0h-5M0 21v-5M-21 0h5" stroke="var(--edge)" stroke-width="1.5" />
      {from_deg === null ? null : (
        <g transform={`rotate(${from_deg})`}>
          <path d="M0-18V8M-4-15L0-11L4-15M-4-10L0-6L4-10" fill="none" stroke="var(--indigo)" stroke-width="2.5" stroke-linecap="round" />
          <path d="M0 18L-7 5H7z" fill="var(--indigo)" />
        </g>
      )}
    </svg>
  );
}
