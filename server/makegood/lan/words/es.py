"""The guide in Spanish. Menus of phones and laptops: from memory, worded so that a person finds them under other names."""

from makegood.lan.words import Book, Step

ES = Book(
    sentences={
        "language": "es",
        "other": "English",
        "title": "Entra en el Makegood de esta finca",
        "lead": "El servidor está aquí, en tu propia red. Para que la aplicación funcione junto al muro y sin cobertura, "
        "el teléfono tiene que reconocerlo con certeza. Lo aprende una vez, con un certificado: unos diez minutos, un "
        "teléfono tras otro.",
        "fetch": "Descargar el certificado",
        "fetch_again": "El archivo se llama makegood-ca.crt.",
        "mean": "Qué aceptas",
        "mean_name": "Desde entonces este teléfono cree a la máquina que tiene la clave cuando dice: soy {name}. El certificado "
        "también puede responder por direcciones privadas de redes domésticas (192.168…, 10…, 172.16… a 172.31…, 169.254…).",
        "mean_no": "Está hecho para no poder responder por nada de internet: ni por un banco, ni por el correo. Ese límite está "
        "escrito en él, y es el navegador del teléfono el que debe respetarlo.",
        "mean_key": "Quien copie el archivo lan/authority.pem de la carpeta de datos de la máquina podría hacerse pasar por este "
        "servidor o por otro aparato de tu red. Quien lleva la máquina guarda ese archivo como la llave de casa.",
        "mean_who": "Por un día de ayuda nadie debería tener que confiar en un certificado: da la lista en papel.",
        "compare": "Compara",
        "compare_say": "Esta página llega por una línea abierta. Hazlo en una red de gente de confianza y compara la huella "
        "SHA-256 del certificado, tal como la muestra tu teléfono u ordenador, con la ventana de la máquina donde funciona "
        "Makegood. Si una sola pareja es distinta, para y quita el certificado.",
        "until": "El certificado vale hasta el {until}.",
        "how": "Cómo se hace, paso a paso",
        "names_differ": "Cada fabricante llama a sus menús de otra manera. Si falta una línea, busca «certificado» en los "
        "ajustes.",
        "android": "Teléfono o tableta Android",
        "iphone": "iPhone o iPad",
        "laptop": "Ordenador portátil",
        "tap": "toca aquí",
        "open": "Después abre Makegood",
        "open_name": "Abrir Makegood",
        "open_say": "Ahora no debe salir ningún aviso. Ponlo en la pantalla de inicio, ábrelo desde allí y usa el enlace que te "
        "da el responsable.",
        "open_address": "Si no se encuentra el nombre, como en los Android más antiguos, usa la dirección: {links}.",
        "open_no_name": "Esta red no conoce el nombre; usa la dirección: {links}.",
        "address_own": "Pero una dirección es para el teléfono un lugar aparte: si el router da otra a la máquina, lo que no se "
        "había enviado se queda en la antigua. Por eso, haz primero que el router dé siempre la misma dirección a esta máquina.",
        "remove": "Cómo quitarlo",
        "remove_say": "Cuando ya no trabajes aquí, o si dejas de fiarte de la máquina. Envía antes: la aplicación debe decir "
        "arriba que no queda nada pendiente.",
    },
    steps={
        "android": (
            Step("Toca el botón. El teléfono guarda el archivo.", "Makegood", ("Descargar el certificado", "makegood-ca.crt"), 0),
            Step("Abre los ajustes del teléfono y ve a seguridad.", "Ajustes", ("Red", "Pantalla", "Seguridad"), 2),
            Step(
                "Sigue a cifrado; en algunos teléfonos está en más ajustes de seguridad.",
                "Seguridad",
                ("Bloqueo de pantalla", "Cifrado y credenciales"),
                1,
            ),
            Step("Instala un certificado.", "Cifrado", ("Credenciales de confianza", "Instalar un certificado"), 1),
            Step(
                "Elige el tipo CA: es el único al que preguntan los navegadores.",
                "Instalar un certificado",
                ("Certificado de CA", "VPN y aplicaciones", "Wi-Fi"),
                0,
            ),
            Step(
                "El teléfono avisa de que podrían leer tu tráfico. Lo dice de todos estos certificados; lo que puede hacer este "
                "está arriba. Pide el bloqueo de pantalla y después el archivo.",
                "Aviso",
                ("No instalar", "Instalar de todos modos"),
                1,
            ),
            Step(
                "Míralo en credenciales de confianza, usuario, y compara la huella. De vez en cuando sale un aviso de que la red "
                "puede estar vigilada; sale mientras esté el certificado.",
                "Credenciales",
                ("Sistema", "Usuario", "Makegood"),
                2,
            ),
        ),
        "iphone": (
            Step("En Safari toca el botón y permite el perfil.", "Safari", ("Descargar el certificado", "Permitir"), 1),
            Step(
                "Abre Ajustes. El perfil espera arriba, o en General, VPN y gestión de dispositivos.",
                "Ajustes",
                ("Perfil descargado", "Wi-Fi", "General"),
                0,
            ),
            Step(
                "En más detalles compara la huella. Después instala. «No verificado» sale en todo perfil hecho a mano.",
                "Instalar perfil",
                ("Makegood, no verificado", "Más detalles", "Instalar"),
                2,
            ),
            Step(
                "Ve a General, Información, y baja hasta el final.",
                "Información",
                ("Nombre", "Modelo", "Confianza de certificados"),
                2,
            ),
            Step(
                "Activa el certificado. Sin este paso no funciona nada.",
                "Confianza de certificados",
                ("Confianza total en:", "Makegood   (activar)"),
                1,
            ),
        ),
        "laptop": (
            Step("Pulsa el botón y guarda el archivo.", "Makegood", ("Descargar el certificado", "makegood-ca.crt"), 0),
            Step(
                "En Windows: abre el archivo, instálalo para el usuario actual y elige tú el almacén: raíz de confianza.",
                "Windows",
                ("Instalar certificado", "Usuario actual", "Raíz de confianza"),
                2,
            ),
            Step(
                "En un Mac: abre el archivo; en Acceso a Llaveros abre el certificado y en confianza elige siempre.",
                "Mac",
                ("inicio de sesión", "Makegood", "Confiar siempre"),
                2,
            ),
            Step(
                "En Linux con Chromium: configuración, seguridad, gestionar certificados, impórtalo como de confianza.",
                "Chromium",
                ("Seguridad", "Gestionar certificados", "Importar"),
                2,
            ),
            Step(
                "Con Firefox, en cualquier portátil: ajustes, certificados, autoridades, importar; marca que puede identificar "
                "webs.",
                "Firefox",
                ("Certificados", "Autoridades", "Importar"),
                2,
            ),
            Step(
                "Abre el certificado donde lo has puesto y compara la huella.",
                "Certificado",
                ("Makegood", "Detalles", "Huella SHA-256"),
                2,
            ),
        ),
    },
    removal={
        "android": "Ajustes, Seguridad, Cifrado y credenciales, Credenciales de confianza, Usuario: toca Makegood y quítalo.",
        "iphone": "Ajustes, General, VPN y gestión de dispositivos: toca Makegood y quita el perfil.",
        "laptop": "En el mismo sitio donde lo pusiste: elige Makegood y bórralo.",
    },
)
