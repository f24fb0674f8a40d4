import { flushSync, mount, unmount, type Component } from 'svelte';

/** Mounts a component for a test and hands its element to the check. */
export function mounted<Props extends Record<string, unknown>>(component: Component<Props>, props: Props, check: (target: HTMLElement) => void): void {
  const target = document.createElement('div');
  document.body.append(target);
  const made = mount(component, { target, props });
  try {
    flushSync();
    check(target);
  } finally {
    void unmount(made);
    target.remove();
  }
}

/** The same for a check that waits. */
export async function shown<Props extends Record<string, unknown>>(component: Component<Props>, props: Props, check: (target: HTMLElement) => Promise<void>): Promise<void> {
  const target = document.createElement('div');
  document.body.append(target);
  const made = mount(component, { target, props });
  try {
    flushSync();
    await check(target);
  } finally {
    await unmount(made);
    target.remove();
  }
}

/** The text of an element with runs of blanks made one. */
export function textOf(element: Element | null): string {
  return (element?.textContent ?? '').replace(/\s+/g, ' ').trim();
}
