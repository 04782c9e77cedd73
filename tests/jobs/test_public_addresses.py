"""Which addresses are of the public internet: one of each special kind, its neighbours, and public ones."""

import pytest

from service.jobs.public_addresses import is_public

# The ends of each network are those of the IANA special-purpose address registries (RFC 6890 and its updates;
# from memory), the public addresses beside them those just before and behind.


@pytest.mark.parametrize(
    "address",
    [
        "0.0.0.0",  # noqa: S104 (nothing is bound to it)
        "0.255.255.255",
        "10.0.0.0",
        "10.255.255.255",
        "100.64.0.0",
        "100.127.255.255",
        "127.0.0.1",
        "127.255.255.255",
        "169.254.0.0",
        "169.254.169.254",
        "172.16.0.0",
        "172.31.255.255",
        "192.0.0.1",
        "192.0.0.255",
        "192.0.2.1",
        "192.88.99.1",
        "192.168.0.0",
        "192.168.255.255",
        "198.18.0.0",
        "198.19.255.255",
        "198.51.100.1",
        "203.0.113.1",
        "224.0.0.1",
        "239.255.255.255",
        "240.0.0.1",
        "255.255.255.255",
    ],
)
def test_special_addresses_are_not_public(address):
    assert not is_public(address)


@pytest.mark.parametrize(
    "address",
    [
        "::",
        "::1",
        "::7f00:1",
        "::ffff:127.0.0.1",
        "::ffff:8.8.8.8",
        "64:ff9b::7f00:1",
        "64:ff9b::808:808",
        "64:ff9b:1::1",
        "100::1",
        "2001::1",
        "2001:1ff::1",
        "2001:db8::1",
        "2002:7f00:1::1",
        "2002:808:808::1",
        "3fff::1",
        "4000::1",
        "fc00::1",
        "fdff::1",
        "fe80::1",
        "fe80::1%eth0",
        "febf::1",
        "fec0::1",
        "ff02::1",
    ],
)
def test_special_addresses_of_version_six_are_not_public(address):
    assert not is_public(address)


@pytest.mark.parametrize(
    "address",
    [
        "1.0.0.1",
        "9.255.255.255",
        "11.0.0.0",
        "100.63.255.255",
        "100.128.0.0",
        "126.255.255.255",
        "128.0.0.1",
        "169.253.255.255",
        "169.255.0.0",
        "172.15.255.255",
        "172.32.0.0",
        "192.0.1.0",
        "192.167.255.255",
        "192.169.0.0",
        "198.17.255.255",
        "198.20.0.0",
        "223.255.255.255",
        "2001:200::1",
        "2001:4860::1",
        "2003::1",
        "2a00:1450::1",
        "3ffe::1",
    ],
)
def test_others_are_public(address):
    assert is_public(address)
