package guard

import (
	"net/netip"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"
)

// address is where a request comes from, as far as it is believed. Of an IPv6 address the first 64 bits
// count, since one household has all the others.
func (g *Guard) address(c *fiber.Ctx) string {
	var from netip.Addr
	if remote, err := netip.ParseAddrPort(c.Context().RemoteAddr().String()); err == nil {
		from = remote.Addr().Unmap()
	}
	// Each proxy adds at the end where it was asked from, so we read from the end while it is a proxy of ours.
	var hops []string
	for _, line := range c.Request().Header.PeekAll(fiber.HeaderXForwardedFor) {
		hops = append(hops, strings.Split(string(line), ",")...)
	}
	for i := len(hops) - 1; i >= 0 && g.isProxy(from); i-- {
		hop, err := netip.ParseAddr(strings.TrimSpace(hops[i]))
		if err != nil {
			break
		}
		from = hop.Unmap()
	}
	if from.Is6() {
		network, _ := from.WithZone("").Prefix(64)
		return network.String()
	}
	return from.String()
}

func (g *Guard) isProxy(a netip.Addr) bool {
	return slices.ContainsFunc(g.o.Proxies, func(p netip.Prefix) bool { return p.Contains(a) })
}
