"""Which addresses belong to the public internet, so that nothing inside a network is reached through one.

After the IANA registries of special-purpose addresses (RFC 6890 and its updates; from memory), held together
with what the standard library knows of them: an address must pass both.
"""

from ipaddress import IPv4Address, IPv6Network, ip_address, ip_network

UNICAST = IPv6Network("2000::/3")
"""All of IPv6 that is given out for the internet (RFC 4291). Beyond it lie the loopback, addresses of a link
or a site, multicast, IPv4 in IPv6 (::ffff:0:0/96) and by translation (64:ff9b::/96, 64:ff9b:1::/48)."""
SPECIAL = tuple(
    map(
        ip_network,
        (
            "0.0.0.0/8",  # this network
            "10.0.0.0/8",  # private (RFC 1918)
            "100.64.0.0/10",  # between carriers and their customers (RFC 6598)
            "127.0.0.0/8",  # loopback
            "169.254.0.0/16",  # of one link
            "172.16.0.0/12",  # private
            "192.0.0.0/24",  # protocol assignments
            "192.0.2.0/24",  # documentation
            "192.88.99.0/24",  # relays to 6to4
            "192.168.0.0/16",  # private
            "198.18.0.0/15",  # benchmarks
            "198.51.100.0/24",  # documentation
            "203.0.113.0/24",  # documentation
            "224.0.0.0/4",  # multicast
            "240.0.0.0/4",  # reserved, and broadcast
            "2001::/23",  # protocol assignments, Teredo among them
            "2001:db8::/32",  # documentation
            "2002::/16",  # 6to4: an IPv4 address inside
            "3fff::/20",  # documentation
        ),
    )
)


def is_public(text: str) -> bool:
    """Whether a numeric address is one of the public internet, to be reached by anybody."""
    address = ip_address(text)
    if not address.is_global or any(address in network for network in SPECIAL):
        return False
    return isinstance(address, IPv4Address) or address in UNICAST
