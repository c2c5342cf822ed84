package android.speech.tts;

import android.content.Context;
import android.os.Bundle;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Starts when the test says so, as the real one takes its time. */
public class TextToSpeech {
    public static TextToSpeech latest;
    public final List<String> said = new ArrayList<>();
    public String language = "";
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

    public int setLanguage(Locale locale) {
        language = locale.toLanguageTag();
        return 0;
    }

    public int speak(CharSequence text, int queue, Bundle more, String id) {
        if (ready) {
            said.add(queue + " " + language + " " + text);
        }
        return ready ? 0 : -1;
    }
}
