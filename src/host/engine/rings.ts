/** Groups of things that depend on themselves (strongly connected parts, found without recursion). */
export function ringsOf<Item>(
  items: readonly Item[],
  needs: (item: Item) => readonly Item[]
): Item[][] {
  const order = new Map<Item, number>();
  const low = new Map<Item, number>();
  const open: Item[] = [];
  const isOpen = new Set<Item>();
  const rings: Item[][] = [];
  let next = 0;
  for (const start of items) {
    if (order.has(start)) continue;
    const stack: { item: Item; needs: readonly Item[]; at: number }[] = [];
    const enter = (item: Item): void => {
      order.set(item, next);
      low.set(item, next++);
      open.push(item);
      isOpen.add(item);
      stack.push({ item, needs: needs(item), at: 0 });
    };
    enter(start);
    while (stack.length > 0) {
      const frame = stack[stack.length - 1] as (typeof stack)[number];
      const { item } = frame;
      const need = frame.needs[frame.at++];
      if (need) {
        if (!order.has(need)) enter(need);
        else if (isOpen.has(need)) {
          low.set(item, Math.min(low.get(item) as number, order.get(need) as number));
        }
        continue;
      }
      stack.pop();
      const parent = stack[stack.length - 1]?.item;
      if (parent) low.set(parent, Math.min(low.get(parent) as number, low.get(item) as number));
      if (low.get(item) !== order.get(item)) continue;
      const ring: Item[] = [];
      for (;;) {
        const member = open.pop() as Item;
        isOpen.delete(member);
        ring.push(member);
        if (member === item) break;
      }
      if (ring.length > 1 || needs(item).includes(item)) rings.push(ring.reverse());
    }
  }
  return rings;
}
