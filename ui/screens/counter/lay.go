package counter

import (
	"context"
	"image"

	"forkwear/ui/screens/photopair"
)

// laid moves today's photo so that the part lies where it lies in the photo of
// then; nil where the pictures alone do not tell how. It runs in a worker.
func laid(ctx context.Context, then, now image.Image) (image.Image, error) {
	return photopair.Over(ctx, then, now, photopair.Quick)
}
