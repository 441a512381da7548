// SPDX-License-Identifier: MIT

package room

import (
	"earline/app/session"
	"earline/project/place"
	"earline/scene"
)

// pick selects what a click in the picture shows: a loudspeaker or a seat,
// opened in the inspector; of what is built in, and of the projector, it opens that. While one path is
// looked along, a click on another loudspeaker looks there from the same seat. A
// click on nothing unselects. In the client view nothing is selected, and who is shown
// around sits down in the seat that they click.
func (p *Picture) pick(x, y float32, wide, high int, cam scene.Camera) {
	hit, ok := scene.Pick(p.session.Design(), p.session.Room(), cam, float64(x), float64(y), wide, high)
	c := p.session.Chosen
	switch {
	case p.around != nil && ok && hit.Kind == place.SeatItem:
		p.sitDown(hit.Seat)
	case p.options.Client:
	case ok && hit.Kind == place.SpeakerItem && c.Path:
		p.session.LookAlong(c.Seat, hit.Speaker)
	case c.Path:
	case ok && hit.Kind == place.SpeakerItem:
		p.session.ChooseSpeaker(hit.Speaker)
	case ok && hit.Kind == place.SeatItem && p.session.Result() != nil && hit.Seat >= 0 && hit.Seat < len(p.session.Result().Seats):
		p.session.ChooseSeat(hit.Seat)
	default:
		next := session.Nothing()
		next.Remark = c.Remark
		switch {
		case ok && hit.Kind == place.FeatureItem:
			next.Item = place.Item{Kind: place.FeatureItem, Index: hit.Feature}
		case ok && hit.Kind == place.ProjectorItem:
			next.Item = place.Item{Kind: place.ProjectorItem}
		}
		p.session.Choose(next)
	}
}
