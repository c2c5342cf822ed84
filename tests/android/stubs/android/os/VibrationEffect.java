package android.os;

import java.util.Arrays;

public class VibrationEffect {
    public static final int DEFAULT_AMPLITUDE = -1;
    final String told;

    private VibrationEffect(String told) {
        this.told = told;
    }

    public static VibrationEffect createOneShot(long milliseconds, int amplitude) {
        return new VibrationEffect("once " + milliseconds);
    }

    public static VibrationEffect createWaveform(long[] timings, int repeat) {
        return new VibrationEffect(Arrays.toString(timings) + " " + repeat);
    }
}
