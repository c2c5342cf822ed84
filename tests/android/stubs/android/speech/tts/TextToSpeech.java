package android.speech.tts;

import android.content.Context;
import android.os.Bundle;
import java.util.ArrayList;
import java.util.List;

/** Starts when the test says so, as the real one takes its time. */
public class TextToSpeech {
    public static TextToSpeech latest;
    public final List<String> said = new ArrayList<>();
    private final OnInitListener listener;
    private boolean ready;

    public interface OnInitListener {
        void onInit(int status);
    }

    public TextToSpeech(Context context, OnInitListener listener) {
        this.listener = listener;
        latest = this;
    }

    public void start(int status) {
        ready = status == 0;
        listener.onInit(status);
    }

    public int speak(CharSequence text, int queue, Bundle more, String id) {
        if (ready) {
            said.add(queue + " " + text);
        }
        return ready ? 0 : -1;
    }
}
