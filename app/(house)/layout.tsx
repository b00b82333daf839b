import { cookies } from "next/headers";
import type { ReactNode } from "react";
import { requireSignedIn } from "@/app/_server/page";
import { GeneralCautions } from "@/app/_ui/cautions";
import { Frame } from "@/app/_ui/masthead";
import { PersonPanel } from "@/app/_ui/person-panel";
import { RoomLinks } from "@/app/_ui/room-links";
import { asTheme, themeCookie } from "@/app/_ui/theme";
import type { ActorAtHome } from "@/lib/access/find-actor";
import { chooseTheme, signOut } from "./actions";
import { roomsOf } from "./rooms";

export default async function HouseLayout({ children }: { children: ReactNode }) {
  const home = await requireSignedIn();
  const theme = asTheme((await cookies()).get(themeCookie)?.value);
  const { name, role } = home.actor;
  return (
    <Frame
      place={<Place home={home} />}
      rooms={<RoomLinks rooms={roomsOf(home.actor)} />}
      person={<PersonPanel name={name} role={role} theme={theme} chooseTheme={chooseTheme} signOut={signOut} />}
      foot={<GeneralCautions />}
    >
      {children}
    </Frame>
  );
}

/** The one site of a person who is limited to it, else the organisation. */
function Place({ home: { organisation, sites } }: { home: ActorAtHome }) {
  if (sites.length === 0) return <b>{organisation.name}</b>;
  return (
    <>
      <b>{sites.length === 1 ? sites[0]?.name : organisation.name}</b>
      <span>{sites.length === 1 ? organisation.name : `${sites.length} sites`}</span>
    </>
  );
}
