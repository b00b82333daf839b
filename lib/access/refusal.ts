/** The actor may not do this. The edge answers 403 with the sentence. */
export class Refused extends Error {
  override readonly name = "Refused";

  constructor(permission: string, otherSite: boolean) {
    super(
      otherSite
        ? `You may ${permission}, but not at this site: ask an administrator to add the site to your account.`
        : `Your role may not ${permission}: ask an administrator or someone whose role may.`,
    );
  }
}
