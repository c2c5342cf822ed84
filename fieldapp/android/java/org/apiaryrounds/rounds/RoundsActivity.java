package org.apiaryrounds.rounds;

import android.view.KeyEvent;
import org.kivy.android.PythonActivity;

/**
 * The activity that the system starts. SDL leaves the volume keys to the system; while Python asks
 * for them they are given to it, and the volume stays as it is.
 */
public final class RoundsActivity extends PythonActivity {
    private static volatile VolumeKeys keys;

    /** Who is told of the volume keys, on the thread of the screen. */
    public interface VolumeKeys {
        /** A key went down, or up. */
        void moved(int key, boolean down);
    }

    /** Give the volume keys to one; to nobody but the system with null. */
    public static void give(VolumeKeys one) {
        keys = one;
    }

    @Override
    public boolean dispatchKeyEvent(KeyEvent event) {
        VolumeKeys told = keys;
        int key = event.getKeyCode();
        if (told == null
                || (key != KeyEvent.KEYCODE_VOLUME_UP && key != KeyEvent.KEYCODE_VOLUME_DOWN)) {
            return super.dispatchKeyEvent(event);
        }
        if (event.getAction() == KeyEvent.ACTION_UP) {
            told.moved(key, false);
        } else if (event.getRepeatCount() == 0) {
            // A key that is held is repeated by the system: only the first counts.
            told.moved(key, true);
        }
        return true;
    }
}
