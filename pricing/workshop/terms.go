package workshop

// TermsIn are the terms as they are printed in a language: the owner's own words, and where there are none in it, the
// first ones.
func (w Workshop) TermsIn(language string) []string {
	if own := w.Foreign[language]; len(own) > 0 {
		return own
	}
	return w.Terms
}

// UsualTerms are the terms a new workshop starts with. Common practice, no source; local law comes first.
func UsualTerms() []string {
	return []string{
		"The price is fixed for what is described here. Two rounds of small changes to the drawing are included; changes after that are priced before they are made.",
		"The bench is booked when the deposit is paid. The balance is due before the shield leaves the workshop.",
		"A shield made to your wishes cannot be given back because of a change of mind. If you cancel before work starts, a quarter of the deposit is kept; later, the cost to date.",
		"Glue lines and straps are mended free for 90 days; wear and misuse are not covered.",
	}
}

// UsualForeign are the same in other languages.
func UsualForeign() map[string][]string {
	return map[string][]string{
		"de": {
			"Der Preis gilt fest für das, was hier beschrieben ist. Zwei Runden kleiner Änderungen an der Zeichnung sind enthalten; für weitere Änderungen wird vorher ein Preis genannt.",
			"Mit der Anzahlung ist der Platz an der Werkbank gebucht. Der Restbetrag ist fällig, bevor der Schild die Werkstatt verlässt.",
			"Ein nach Ihren Wünschen gefertigter Schild kann nicht zurückgegeben werden, weil er nicht mehr gefällt. Treten Sie vor Beginn der Arbeit zurück, wird ein Viertel der Anzahlung einbehalten; danach, was bis dahin aufgewendet wurde.",
			"Klebestellen und Riemen werden 90 Tage lang kostenlos ausgebessert; Verschleiß und falscher Gebrauch sind ausgenommen.",
		},
		"fr": {
			"Le prix est ferme pour ce qui est décrit ici. Deux séries de petites modifications du dessin sont comprises ; le prix de toute autre modification est indiqué avant qu’elle soit faite.",
			"L’établi est réservé dès que l’acompte est payé. Le solde est dû avant que le bouclier quitte l’atelier.",
			"Un bouclier fait selon vos souhaits ne peut pas être rendu à la suite d’un changement d’avis. Si vous annulez avant le début du travail, un quart de l’acompte est retenu ; ensuite, les frais engagés jusque-là.",
			"Les collages et les sangles sont réparés gratuitement pendant 90 jours ; l’usure et le mauvais usage ne sont pas couverts.",
		},
	}
}
