package mail

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"net"
	"net/textproto"
	"os"
	"strings"
	"unicode"

	"foamwright/pricing/sales"
)

// code is the three digits a server refused with; 0 when it did not answer in words.
func code(err error) int {
	var said *textproto.Error
	if errors.As(err, &said) {
		return said.Code
	}
	return 0
}

// quoted is what the server said, on one line and not too long.
func quoted(err error) string {
	var said *textproto.Error
	if !errors.As(err, &said) {
		return ""
	}
	text := strings.Join(strings.FieldsFunc(strings.ToValidUTF8(said.Msg, ""), func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
	if r := []rune(text); len(r) > 160 {
		text = string(r[:160]) + "…"
	}
	return fmt.Sprintf(" It says: %d %s", said.Code, text)
}

// plainly says why an attempt failed in words for the maker, and whether it is of no use to try again. What has to be
// put right at the server or in its address, and not in the mail, is tried again; 530 and 538 ask for a sign-in (RFC 4954).
func (r *refusal) plainly(server Server, m sales.Mail, closing bool) (why string, forGood bool) {
	said, no := quoted(r.err), code(r.err)
	lasting := no >= 500
	switch {
	case r.at == writing:
		return "The message could not be put together. Look at the workshop's name and mail address.", true
	case closing && no == 0:
		return "foamwright was closed while it was sent.", false
	case r.at == reaching && no != 0:
		return fmt.Sprintf("The mail server %s does not take mail just now.%s", server, said), false
	case r.at == reaching:
		return fmt.Sprintf("The mail server %s cannot be reached: %s.", server, broke(r.err)), false
	case errors.Is(r.err, errNoTLS):
		return fmt.Sprintf("The mail server %s offers no TLS on this port, so nothing was told to it. Set another port, or smtps:// with port 465.", server), false
	case r.at == securing && distrusted(r.err):
		return fmt.Sprintf("The mail server %s has a certificate that is not for this name or that nobody known here vouches for, so nothing was told to it.", server), false
	case r.at == securing:
		return fmt.Sprintf("TLS with the mail server %s fails: %s.%s", server, broke(r.err), said), false
	case errors.Is(r.err, errNoSignIn):
		return fmt.Sprintf("The mail server %s offers no way to sign in that foamwright knows (PLAIN or LOGIN).", server), false
	case r.at == signing && no != 0:
		return fmt.Sprintf("The mail server %s does not let foamwright in: look at user and password.%s", server, said), false
	case r.at == ending && no == 0:
		return fmt.Sprintf("The line to the mail server %s broke after the mail was handed over and before it was receipted: %s. It is handed over again under the same Message-ID.", server, broke(r.err)), false
	case no == 0:
		return fmt.Sprintf("The line to the mail server %s broke while %s: %s.", server, r.at, broke(r.err)), false
	case no == 530 || no == 538:
		return fmt.Sprintf("The mail server %s wants a user and a password, or TLS, before it takes mail.%s", server, said), false
	case r.at == naming && lasting:
		return fmt.Sprintf("The mail server %s does not take mail from the workshop's address %s.%s", server, m.From, said), true
	case r.at == asking && lasting:
		return fmt.Sprintf("The mail server %s refuses %s. Look whether the address is right.%s", server, m.To, said), true
	case lasting:
		return fmt.Sprintf("The mail server %s refuses this mail.%s", server, said), true
	}
	return fmt.Sprintf("The mail server %s takes this mail back for now.%s", server, said), false
}

// broke says in a few words what is wrong with a line.
func broke(err error) string {
	var name *net.DNSError
	var op *net.OpError
	switch {
	case errors.As(err, &name):
		return "there is no server of this name, or the net is away"
	case errors.Is(err, os.ErrDeadlineExceeded), errors.Is(err, context.DeadlineExceeded), errors.Is(err, net.ErrClosed):
		return "it did not answer in time"
	case errors.As(err, &op) && op.Op == "dial":
		return "nobody answers there"
	case code(err) != 0:
		return "it refuses"
	}
	return "the connection ended"
}

func distrusted(err error) bool {
	var chain *tls.CertificateVerificationError
	var name x509.HostnameError
	var unknown x509.UnknownAuthorityError
	return errors.As(err, &chain) || errors.As(err, &name) || errors.As(err, &unknown)
}
