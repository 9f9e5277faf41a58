import {
  Children,
  Fragment,
  cloneElement,
  isValidElement,
  type ReactElement,
  type ReactNode,
} from 'react';

const units =
  '%|mph|m/s|ft/s|yd³|yd²|yd|ft²|ft³|ft|in|ac|hp|kW|cm|mm|km|m³|m²|m|ha|h|min|tons|tonnes|t|lb|kg';

/** "29 %", "1,250 yd³", "12 ft 6 in", "7 to 14 days": a number and what it counts. */
const quantity = new RegExp(
  `((?:\\d[\\d.,]* to )?\\d(?:[\\d.,]*\\d)? (?:(?:${units})(?![\\p{L}\\d²³/])|days?\\b)(?:(?<=ft) \\d+ in\\b)?)`,
  'u',
);

/** A sentence in which no line ends between a number and its unit, also where parts of it are bold. */
export function Said({ children }: { readonly children: ReactNode }): ReactElement {
  return <>{whole(children)}</>;
}

function whole(children: ReactNode): ReactNode[] {
  return joined(Children.toArray(children)).map((child) => {
    if (typeof child === 'string') {
      // With one group in the pattern every second part is a quantity.
      return child.split(quantity).map((part, i) =>
        i % 2 === 1 ? (
          <span key={i} className="whole">
            {part}
          </span>
        ) : (
          part
        ),
      );
    }
    if (!isValidElement<{ children?: ReactNode }>(child)) return child;
    // Components say what is theirs themselves.
    if (typeof child.type !== 'string' && child.type !== Fragment) return child;
    return child.props.children === undefined
      ? child
      : cloneElement(child, {}, ...whole(child.props.children));
  });
}

/** Text that stands in several pieces as one: a figure and its " %" are two in JSX. */
function joined(parts: readonly ReactNode[]): ReactNode[] {
  const all: ReactNode[] = [];
  for (const part of parts) {
    const text = typeof part === 'number' ? String(part) : part;
    const last = all.at(-1);
    if (typeof text === 'string' && typeof last === 'string') all[all.length - 1] = last + text;
    else all.push(text);
  }
  return all;
}
