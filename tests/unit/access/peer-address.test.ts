import { describe, expect, it } from "vitest";
import { peerAddress } from "@/app/_server/peer-address";

describe("the address of the other end", () => {
  it("is the socket's when no proxy of ours stands in front, whatever the client wrote", () => {
    expect(peerAddress("192.0.2.7", undefined, 0)).toBe("192.0.2.7");
    expect(peerAddress("192.0.2.7", "203.0.113.1", 0)).toBe("192.0.2.7");
  });

  it("is what our own proxies saw, counted from the right, never the client's own entries", () => {
    expect(peerAddress("10.0.0.1", "203.0.113.1, 198.51.100.4", 1)).toBe("198.51.100.4");
    expect(peerAddress("10.0.0.1", "203.0.113.1, 198.51.100.4, 10.0.0.2", 2)).toBe("198.51.100.4");
  });

  it("falls back to the socket when the chain is shorter than it should be", () => {
    expect(peerAddress("10.0.0.1", undefined, 1)).toBe("10.0.0.1");
    expect(peerAddress("10.0.0.1", "198.51.100.4", 2)).toBe("10.0.0.1");
  });
});
