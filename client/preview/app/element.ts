/** Elements of the page. Text only ever becomes a text node, so that nothing in a job can be read as markup. */

type Child = Node | string | undefined | false;
type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;

const SVG = 'http://www.w3.org/2000/svg';

export function element<T extends keyof HTMLElementTagNameMap>(
  name: T,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[T] {
  return filled(document.createElement(name), attributes, children);
}

export function drawn<T extends keyof SVGElementTagNameMap>(
  name: T,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[T] {
  return filled(document.createElementNS(SVG, name), attributes, children);
}

export function button(label: string, press: () => void, attributes: Attributes = {}): HTMLButtonElement {
  const made = element('button', { type: 'button', ...attributes }, label);
  made.addEventListener('click', press);
  return made;
}

function filled<E extends Element>(made: E, attributes: Attributes, children: readonly Child[]): E {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === false) continue;
    made.setAttribute(name, value === true ? '' : String(value));
  }
  made.append(...children.filter((child) => child !== undefined && child !== false));
  return made;
}

/** `{0}` and so on in a sentence, replaced. */
export function put(sentence: string, ...values: readonly (string | number)[]): string {
  return sentence.replace(/\{(\d)\}/g, (_, at) => String(values[Number(at)] ?? ''));
}
