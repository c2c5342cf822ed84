package android.os;

import java.util.ArrayList;
import java.util.List;

public class Vibrator {
    public final List<String> shaken = new ArrayList<>();

    public void vibrate(VibrationEffect effect) {
        shaken.add(effect.told);
    }

    public boolean hasVibrator() {
        return true;
    }
}
