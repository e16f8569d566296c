"""The guide in English. Menus of phones and laptops: from memory, worded so that a person finds them under other names."""

from makegood.lan.words import Book, Step

EN = Book(
    sentences={
        "language": "en",
        "other": "Español",
        "title": "Join this farm's Makegood",
        "lead": "The server stands here, on your own network. For the app to work on the wall without signal, the phone has "
        "to know it again for certain. It learns that once, from a certificate: about ten minutes, one phone after another.",
        "fetch": "Fetch the certificate",
        "fetch_again": "The file is called makegood-ca.crt.",
        "mean": "What you agree to",
        "mean_name": "From then on this phone believes the machine that holds the key when it says: I am {name}. The "
        "certificate can also vouch for private addresses of home networks (192.168…, 10…, 172.16… to 172.31…, 169.254…).",
        "mean_no": "It is made so that it can vouch for nothing on the internet: not for a bank, not for mail. That limit is "
        "written into it, and it is the phone's browser that has to keep to it.",
        "mean_key": "Whoever copies the file lan/authority.pem from the machine's data folder could pretend to be this server, "
        "or another device of your own network. Whoever runs the machine guards that file like the key to the house.",
        "mean_who": "For one day's help nobody should have to trust a certificate: give the list on paper instead.",
        "compare": "Compare",
        "compare_say": "This page comes over an open line. So do it on a network whose people you trust, and hold the "
        "certificate's SHA-256 fingerprint, as your phone or laptop shows it, against the window of the machine that runs "
        "Makegood. If one pair differs, stop and remove the certificate.",
        "until": "The certificate lasts until {until}.",
        "how": "How, step by step",
        "names_differ": "Makers name their menus differently. If a line is missing, search the settings for “certificate”.",
        "android": "Android phone or tablet",
        "iphone": "iPhone or iPad",
        "laptop": "Laptop",
        "tap": "tap here",
        "open": "Then open Makegood",
        "open_name": "Open Makegood",
        "open_say": "No warning may come now. Put it on the home screen, open it there, and use the link that the "
        "keeper gives you.",
        "open_address": "If the name is not found, as on older Android phones, use the address: {links}.",
        "open_no_name": "This network does not know the name, so use the address: {links}.",
        "address_own": "But an address is a place of its own to the phone: if the router gives the machine another one, what had "
        "not been sent stays behind at the old. So first have the router always give this machine the same address.",
        "remove": "How to remove it again",
        "remove_say": "When you no longer work here, or lose faith in the machine. Send first: the badge in the app must "
        "say that nothing is waiting.",
    },
    steps={
        "android": (
            Step("Tap the button. The phone keeps the file.", "Makegood", ("Fetch the certificate", "makegood-ca.crt"), 0),
            Step("Open the phone's settings and go to security.", "Settings", ("Network", "Display", "Security"), 2),
            Step(
                "Go on to encryption; on some phones it stands under more security settings.",
                "Security",
                ("Screen lock", "Encryption and credentials"),
                1,
            ),
            Step("Install a certificate.", "Encryption", ("Trusted credentials", "Install a certificate"), 1),
            Step(
                "Choose the kind CA: it is the only one that browsers ask.",
                "Install a certificate",
                ("CA certificate", "VPN and app", "Wi-Fi"),
                0,
            ),
            Step(
                "The phone warns that your traffic could be read. It says so of every such certificate; what this one can do "
                "stands above. It asks for the screen lock, then for the file.",
                "Warning",
                ("Don't install", "Install anyway"),
                1,
            ),
            Step(
                "Look at it under trusted credentials, user, and compare the fingerprint. A notice that the network may be "
                "watched comes now and again; it stays as long as the certificate.",
                "Trusted credentials",
                ("System", "User", "Makegood"),
                2,
            ),
        ),
        "iphone": (
            Step("In Safari tap the button and allow the profile.", "Safari", ("Fetch the certificate", "Allow"), 1),
            Step(
                "Open Settings. The profile waits at the top, or under General, VPN and device management.",
                "Settings",
                ("Profile downloaded", "Wi-Fi", "General"),
                0,
            ),
            Step(
                "Under more details compare the fingerprint. Then install. “Not verified” stands there for every profile made "
                "by hand.",
                "Install profile",
                ("Makegood, not verified", "More details", "Install"),
                2,
            ),
            Step("Go to General, About, and right to the end.", "About", ("Name", "Model", "Certificate trust settings"), 2),
            Step(
                "Switch the certificate on. Without this step nothing works.",
                "Certificate trust settings",
                ("Full trust for:", "Makegood   (switch on)"),
                1,
            ),
        ),
        "laptop": (
            Step("Click the button and keep the file.", "Makegood", ("Fetch the certificate", "makegood-ca.crt"), 0),
            Step(
                "On Windows: open the file, install it for the current user, and choose the place yourself: trusted root.",
                "Windows",
                ("Install certificate", "Current user", "Trusted root"),
                2,
            ),
            Step(
                "On a Mac: open the file; in Keychain Access open the certificate and under trust choose always.",
                "Mac",
                ("login", "Makegood", "Always trust"),
                2,
            ),
            Step(
                "On Linux with Chromium: settings, security, manage certificates, import it as trusted.",
                "Chromium",
                ("Security", "Manage certificates", "Import"),
                2,
            ),
            Step(
                "With Firefox, on any laptop: settings, certificates, authorities, import; tick that it may identify websites.",
                "Firefox",
                ("Certificates", "Authorities", "Import"),
                2,
            ),
            Step(
                "Open the certificate where you put it and compare the fingerprint.",
                "Certificate",
                ("Makegood", "Details", "SHA-256 fingerprint"),
                2,
            ),
        ),
    },
    removal={
        "android": "Settings, Security, Encryption and credentials, Trusted credentials, User: tap Makegood, then remove.",
        "iphone": "Settings, General, VPN and device management: tap Makegood, then remove the profile.",
        "laptop": "In the same place where you put it: choose Makegood, then delete.",
    },
)
