import type { RoomLink } from "@/app/_ui/room-links";
import type { Actor } from "@/lib/access/actor";
import { mayDo, type Permission } from "@/lib/access/permissions";

interface Room extends RoomLink {
  readonly permissions: readonly Permission[];
}

const rooms: readonly Room[] = [
  { href: "/", label: "Today", far: false, permissions: ["see findings"] },
  { href: "/appliances", label: "Appliances", far: false, permissions: ["see appliances"] },
  { href: "/building", label: "Building", far: true, permissions: ["see places"] },
  { href: "/recalls", label: "Recalls", far: true, permissions: ["see recalls"] },
  { href: "/findings", label: "Findings", far: false, permissions: ["see findings"] },
  { href: "/inspect", label: "Inspect", far: false, permissions: ["see inspections"] },
  { href: "/readings", label: "Readings", far: true, permissions: ["see readings"] },
  { href: "/bring-in", label: "Bring in", far: true, permissions: ["bring in labels", "bring in places", "load notices", "load log"] },
  { href: "/record", label: "Record", far: true, permissions: ["see record"] },
  { href: "/people", label: "People", far: true, permissions: ["manage people"] },
];

/** The rooms an actor may enter. */
export function roomsOf(actor: Actor): RoomLink[] {
  return rooms
    .filter(({ permissions }) => permissions.some((permission) => mayDo(actor, permission)))
    .map(({ href, label, far }) => ({ href, label, far }));
}
